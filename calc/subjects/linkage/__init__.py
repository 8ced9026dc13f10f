"""What leads from the actuator to the surface."""
