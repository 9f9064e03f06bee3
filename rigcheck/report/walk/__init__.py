"""A walk on paper: a sheet to fill in by hand, as text, as a page, and as a look to be typed."""
