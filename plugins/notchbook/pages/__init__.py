"""Views of a handbook as pages: values gathered here, markup in the templates, plain Markdown with HTML blocks out."""
