"""The pages of a handbook without the plugin: for other builders, or as a site by themselves."""
