"""What the gear, the model and its class weigh."""
