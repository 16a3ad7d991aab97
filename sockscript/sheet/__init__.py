"""From runs to printed steps and pictures."""
