"""Hand-written pages: values, formulae, Markdown, what of them is published."""
