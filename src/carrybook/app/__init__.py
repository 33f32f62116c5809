"""The doors: services, forms, command line, demo."""
