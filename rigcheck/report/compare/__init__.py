"""Departures of one rig from another as text."""
