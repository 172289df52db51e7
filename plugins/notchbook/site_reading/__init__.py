"""What a site is made of besides data: its settings, its hand-written pages and files, and where it may lie."""
