"""A result in, a picture, a card or plain text out. Nothing here computes or saves."""
