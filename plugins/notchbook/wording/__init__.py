"""Foreign text on its way out: lines, JSON and CSV in which nothing steers who reads them."""
