"""What an editor asks about a script while it is written; knows nothing of any protocol."""
