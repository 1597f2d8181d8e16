"""Services of the larder."""
