"""What parts came out at beside what was planned."""
