"""Pages -> bytes: HTML, pictures, exports, assets."""
