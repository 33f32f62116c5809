"""The rooms of the page, one file each."""
