"""The drawing of a rig as SVG."""
