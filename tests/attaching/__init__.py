"""Reports of laboratories, made by other programs than the one that cleans them wherever one is to be had."""
