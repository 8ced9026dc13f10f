"""What the airframe weighs, part by part."""
