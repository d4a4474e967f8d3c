"""What score.py counts, a module a question."""
