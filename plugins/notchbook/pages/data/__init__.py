"""Data files of the site, with their descriptions and the page about them."""
