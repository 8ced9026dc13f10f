"""What build.py does: set up, build, serve, check, measure."""
