"""Which wedges: what each would cost over the shots a player faces, and the bag that costs least."""
