"""The control surface and its actuator."""
