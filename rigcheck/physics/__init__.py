"""Figures: what is computed about a rig, as pure functions in SI units; unknown (None) outside their validity."""
