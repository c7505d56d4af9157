"""DXF sketches of the marks, 1:1 with true dimensions; knows views and words."""
