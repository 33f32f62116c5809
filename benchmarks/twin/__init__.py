"""Twin worlds: a truth nobody is told, a log and a forecast of it, and choices played in it."""
