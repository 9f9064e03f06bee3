"""Facts of a rig: stated, following from others, worked out; each with its witnesses."""
