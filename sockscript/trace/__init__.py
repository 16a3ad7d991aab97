"""The simulator; machine-model.md is its specification."""
