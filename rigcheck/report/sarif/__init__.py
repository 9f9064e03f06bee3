"""Inspections as SARIF 2.1.0."""
