"""The room of the subject airframe on the page."""
