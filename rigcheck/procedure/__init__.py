"""Procedures as data: the steps for one rig in their order, the sheet, and the record of what was done."""
