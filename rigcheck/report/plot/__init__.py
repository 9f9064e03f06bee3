"""The plots of a calculation sheet as SVG."""
