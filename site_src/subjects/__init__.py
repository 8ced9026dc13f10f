"""One subject, one room: what the page shows of it. The rooms have the names of those in `calc.subjects`."""
