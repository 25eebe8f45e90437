"""The pages of a site; `site` lists them all."""
