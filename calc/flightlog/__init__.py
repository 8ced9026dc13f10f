"""What `python -m calc flight FILE` does; loaded when asked for: nothing else waits for the readers."""
