"""One module for each thing the command line does: read words, call a service, print."""
