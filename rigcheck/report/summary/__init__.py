"""Overviews of many rigs."""
