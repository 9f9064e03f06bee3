"""Reports as JSON in published forms."""
