"""The subject reach: how far the radio carries."""
