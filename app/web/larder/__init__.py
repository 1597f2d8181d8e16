"""Pages of the larder."""
