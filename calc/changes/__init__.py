"""What would make an installation fit: single changes, each worked out anew on the changed budget."""
