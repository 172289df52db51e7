"""Technical drawings to scale: values in, an SVG string out."""
