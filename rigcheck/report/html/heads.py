"""How each sort of page begins: by that a page of ours is known before it is written over."""

from __future__ import annotations

__all__ = ["FILE_HEAD", "SHEET_HEAD", "WALK_HEAD"]

FILE_HEAD = '<!DOCTYPE html>\n<html lang="en">\n<!-- rigcheck file 1 -->\n'
SHEET_HEAD = '<!DOCTYPE html>\n<html lang="en">\n<!-- rigcheck sheet -->\n'
WALK_HEAD = '<!DOCTYPE html>\n<html lang="en">\n<!-- rigcheck walk -->\n'
