"""What is wrong in a file that is no YAML: the slips that people make, each found in the text around the break."""
