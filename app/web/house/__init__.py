"""Pages of the house: its people, its phones, its calendar."""
