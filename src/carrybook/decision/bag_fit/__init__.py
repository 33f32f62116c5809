"""Which wedges: what each would cost over the shots a player faces, and which bag costs least."""
