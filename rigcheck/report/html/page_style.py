"""How the commissioning file looks: on a phone, in the dark, on A4 in black and white.

Drawings are black on white paper in either scheme.
"""

from __future__ import annotations

from rigcheck.report.safety_colours import RED, SIGNAL_COLOURS

__all__ = ["STYLE"]

_WORDS = "".join(
    f".{'caution-word' if word == 'caution' else word} {{ background: {ground}; color: {letters}; }}\n"
    for word, (ground, letters) in SIGNAL_COLOURS.items()
)
_HOLD = f".hold {{ background: {RED}; color: #ffffff; border-color: {RED}; }}\n"

_LAYOUT = """
:root { color-scheme: light dark; --paper: #ffffff; --ink: #111111; --soft: #4a4a4a; --edge: #767676;
  --panel: #f3f3ef; --link: #0b4ea2; --focus: #0b4ea2; }
@media (prefers-color-scheme: dark) {
  :root { --paper: #141414; --ink: #ededed; --soft: #bdbdbd; --edge: #8c8c8c;
    --panel: #212121; --link: #8fc3ff; --focus: #ffd400; }
}
* { box-sizing: border-box; }
html { scroll-padding-top: 1rem; -webkit-text-size-adjust: 100%; }
body { margin: 0 auto; padding: 1rem; max-width: 62rem; background: var(--paper); color: var(--ink);
  font: 1rem/1.45 Helvetica, Arial, "Liberation Sans", sans-serif; overflow-wrap: anywhere; }
h1, h2, h3, h4 { line-height: 1.2; margin: 0 0 .5rem; break-after: avoid; }
h2 + p { break-after: avoid; }
h1 { font-size: 1.6rem; }
h2 { font-size: 1.3rem; margin-top: 2.5rem; padding-top: .5rem; border-top: 3px solid var(--ink); }
h3 { font-size: 1.1rem; margin-top: 1.5rem; }
h4 { font-size: 1rem; }
p, ul, ol, dl { margin: 0 0 .75rem; }
ul, ol { padding-left: 1.6rem; }
li { margin-bottom: .25rem; }
code { font: .9em/1.3 "Liberation Mono", "Courier New", monospace; }
small, .quiet { color: var(--soft); font-size: .875rem; }
a { color: var(--link); text-underline-offset: .15em; }
:focus-visible { outline: 3px solid var(--focus); outline-offset: 2px; }
:target { outline: 3px solid var(--focus); outline-offset: 4px; }
.skip { position: absolute; left: -99rem; }
.skip:focus { position: static; display: inline-block; padding: .5rem; }
nav ul { padding: 0; list-style: none; display: flex; flex-wrap: wrap; gap: .25rem 1.2rem; }
nav a { display: inline-block; padding: .3rem 0; }
.caution { border: 2px solid var(--ink); padding: .6rem .8rem; font-weight: bold; }
.state { border: 3px solid var(--ink); padding: .6rem .8rem; font-size: 1.15rem; }
.state b { display: block; font-size: 1.4rem; }
/* HOLD */
.word { display: inline-block; padding: 0 .4em; letter-spacing: .03em; font-weight: bold; border: 1px solid #111111; }
/* WORDS */
.conceded { font-weight: bold; text-decoration: underline; }
.finding, .figure { background: var(--panel); border-left: 4px solid var(--edge); padding: .7rem .8rem;
  margin: 0 0 1rem; break-inside: avoid; }
.figure { padding: .45rem .8rem; margin-bottom: .6rem; }
.figure h4 { font-weight: normal; margin: 0; }
.rows { margin: 0; }
.rows > div { display: grid; grid-template-columns: 7.5rem minmax(0, 1fr); gap: 0 .8rem; padding: .12rem 0; }
.rows dt { color: var(--soft); }
.rows dd { margin: 0; }
.figure .rows { font-size: .9rem; margin-top: .2rem; }
.rows ul { margin: 0; padding-left: 1.1rem; }
.scroll { overflow-x: auto; margin: 0 0 1rem; }
table { border-collapse: collapse; width: 100%; }
caption { text-align: left; font-weight: bold; padding: .3rem 0; }
th, td { text-align: left; vertical-align: top; padding: .3rem .5rem; border: 1px solid var(--edge);
  overflow-wrap: break-word; }
th small { display: block; font-weight: normal; }
tr { break-inside: avoid; }
.limits table { min-width: 42rem; }
.limits td { font-size: .9rem; }
.sign table { min-width: 34rem; }
.sign td, .sign tbody th { height: 3.4rem; }
.sign tbody th { width: 38%; font-weight: normal; }
.paper { background: #ffffff; color: #111111; border: 1px solid var(--edge); overflow-x: auto; margin: 0 0 1rem; }
.paper a:focus-visible, .paper :target { outline: 3px solid #0b4ea2; }
.paper svg { display: block; width: 100%; height: auto; }
.drawing svg { min-width: 28rem; max-width: 44rem; margin: 0 auto; }
.plots { display: grid; grid-template-columns: repeat(auto-fit, minmax(min(100%, 19rem), 1fr)); gap: 1rem; }
figure { margin: 0; break-inside: avoid; }
figcaption { font-size: .9rem; }
.plots svg { max-width: 30rem; }
.steps { padding-left: 2.6rem; }
.steps > li { break-inside: avoid; border-top: 1px solid var(--edge); padding: .5rem 0 .5rem .3rem; margin: 0; }
.steps > li::marker { font-weight: bold; font-size: 1.15rem; }
.step { display: grid; grid-template-columns: 1.6rem minmax(0, 5fr) minmax(0, 3fr) minmax(0, 4fr); gap: .2rem .9rem; }
.step p { margin: 0; }
.step p + p { margin-top: .2rem; }
.tick { display: inline-block; width: 1.25rem; height: 1.25rem; border: 2px solid var(--ink); }
.choice { white-space: nowrap; margin-right: .7rem; }
.choice .tick { width: .9rem; height: .9rem; border-width: 1px; vertical-align: -.1rem; }
.blank { display: inline-block; width: 5rem; height: 1.5rem; border-bottom: 1px solid var(--ink); }
@media (max-width: 45rem) {
  .rows > div { grid-template-columns: minmax(0, 1fr); }
  .rows dt { font-size: .875rem; }
  table { font-size: .9rem; }
  .step { grid-template-columns: 1.6rem minmax(0, 1fr); }
  .step > * { grid-column: 2; }
  .step > .tick { grid-column: 1; grid-row: 1; }
}
@page { size: A4; margin: 13mm 12mm 18.2mm 15mm; /* as high and wide as a page of a drawing */
  @bottom-left { font: 7.5pt Helvetica, Arial, "Liberation Sans", sans-serif;
    content: "The local code, the makers' instructions and a competent or licensed person decide."; }
  @bottom-right { font: 7.5pt Helvetica, Arial, "Liberation Sans", sans-serif;
    content: counter(page) " of " counter(pages); } }
@media print {
  :root { color-scheme: light; --paper: #ffffff; --ink: #000000; --soft: #000000; --edge: #000000; --panel: #ffffff;
    --link: #000000; }
  body { font-size: 9.5pt; line-height: 1.3; padding: 0; max-width: none; }
  h1 { font-size: 17pt; }
  h2 { font-size: 13pt; margin-top: 7mm; border-top-width: 1.5pt; }
  h3 { font-size: 11pt; margin-top: 4mm; }
  h4 { font-size: 9.5pt; }
  small, .quiet, figcaption, .limits td, .figure .rows, .rows dt { font-size: 8.5pt; }
  nav, .skip, .to-pin { display: none; }
  a { color: inherit; text-decoration: none; }
  :target { outline: none; }
  #drawing:has(.whole), #calculation, #sheet-start-up, #sheet-shut-down, #limits { break-before: page; }
  #drawing h2, #calculation h2, #sheet-start-up h2, #sheet-shut-down h2, #limits h2 { margin-top: 0; }
  .scroll, .paper { overflow: visible; }
  .scroll table, .drawing svg { min-width: 0; }
  .paper { border: 0; }
  .drawing .whole { width: auto; max-width: 100%; height: auto; max-height: 240mm; }
  .drawing .paged { max-width: none; break-before: page; }
  .figures { columns: 2; column-gap: 7mm; }
  .figures .rows ul { padding-left: 3mm; }
  .plots { grid-template-columns: 1fr 1fr; }
  .finding, .figure { padding: 1.5mm 2.5mm; margin-bottom: 2.5mm; border: .5pt solid #000000;
    border-left-width: 2.5pt; }
  .figure { border-width: 0 0 .4pt; padding: .8mm 0; margin-bottom: .8mm; }
  .long { break-inside: auto; }
  .rows > div { grid-template-columns: 24mm minmax(0, 1fr); padding: .2mm 0; }
  .figures .rows > div { grid-template-columns: 14mm minmax(0, 1fr); }
  .word, .hold, .warning, .caution-word, .notice { background: #ffffff; color: #000000; border: 1pt solid #000000; }
  .danger, .hold { background: #000000; color: #ffffff; print-color-adjust: exact; -webkit-print-color-adjust: exact; }
  .step { grid-template-columns: 6mm minmax(0, 5fr) minmax(0, 3fr) minmax(0, 4fr); gap: .5mm 3mm; }
  .step > *, .step > .tick { grid-column: auto; grid-row: auto; }
  .steps { padding-left: 2.6rem; }
.steps > li { padding: 1mm 0 1mm 1mm; }
  .tick { width: 4.5mm; height: 4.5mm; border-width: 1pt; }
  .sign, #signing, #origins { break-inside: avoid; }
  .sign td, .sign tbody th { height: 13mm; }
}
"""
STYLE = _LAYOUT.replace("/* HOLD */\n", _HOLD).replace("/* WORDS */\n", _WORDS)
