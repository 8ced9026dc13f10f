"""What a choice of the trade saves on the airframe, each worked out anew on the changed budget."""
