"""Short answers as plain text for a terminal; the long ones are written by `artefacts`."""
