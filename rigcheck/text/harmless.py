"""Text that came from a file or a name, made harmless: it is read, and nothing in it acts unseen.

Every form of every report, and every message, passes what it did not write itself through here.
"""

from __future__ import annotations

import re

__all__ = ["harmless", "harmless_json", "visible"]

# Letters and marks that Unicode counts as printable and that show nothing: fillers, joiners, selectors.
_BLANK = re.compile("[\u034f\u115f\u1160\u17b4\u17b5\u2800\u3164\ufe00-\ufe0f\uffa0\U000e0100-\U000e01ef]")
_PLAIN = re.compile(r"[ -~]*")
# Services that run a build take a line that begins with '::', or '##' and a bracket anywhere, for a command.
# A line begins where a word does; within one, as in an address of a chain of stores, '::' says nothing to them.
_COMMAND = re.compile(r"(?<!\S):{2,}|#(?=#)")


def visible(text: str, kept: str = "") -> str:
    """Return text with each letter that steers, hides or turns others shown as its number; `kept` stay as they are.

    >>> visible("a\\x1b[2Jb\\u202e\\u200b")
    'a[U+001B][2Jb[U+202E][U+200B]'
    """
    if _PLAIN.fullmatch(text) or (text.isprintable() and not _BLANK.search(text)):
        return text
    return "".join(one if one in kept or _shows(one) else f"[U+{ord(one):04X}]" for one in text)


def _shows(letter: str) -> bool:
    return letter.isprintable() and not _BLANK.match(letter)


def harmless_json(text: str) -> str:
    r"""Return JSON that says the same and has no '##' in it, which is only found in its texts.

    >>> harmless_json('{"rig": "##[endgroup]"}')
    '{"rig": "#\\u0023[endgroup]"}'
    """
    return text.replace("##", r"#\u0023")


def harmless(text: str, kept: str = "") -> str:
    """Return text on one line, each of its letters to be seen, and no command of a service that runs builds.

    >>> harmless("gate\\n::error file=a.yaml::forged ##[endgroup]")
    'gate : :error file=a.yaml::forged # #[endgroup]'
    """
    line = " ".join(text.split()) if not kept else " ".join(filter(None, re.split(rf"[^\S{kept}]+", text)))
    return _COMMAND.sub(lambda found: "# " if found[0] == "#" else " ".join(found[0]), visible(line, kept))
