"""How the page looks: on screens of any width, and printed on A4 and Letter."""

from __future__ import annotations

from crushleg.report.style import BLUE, FAINT, INK, WHITE

QUIET = "#595959"
"""Notes and captions."""
SHADE, STRONG = "#f3f5f7", "#e4edf4"
"""Behind heads of tables and inputs; behind the row that is set off."""
GOOD, BAD = "#0b5d2e", "#9c1c1c"
RULE = "#767676"
"""Lines to sign on, edges of what can be scrolled."""

LEAST_CONTRAST = 4.5
"""Of text, level AA of the Web Content Accessibility Guidelines 2.2, 1.4.3."""
ON = (
    (INK, WHITE),
    (INK, SHADE),
    (INK, STRONG),
    (QUIET, WHITE),
    (QUIET, SHADE),
    (BLUE, WHITE),
    (BLUE, SHADE),
    (BLUE, STRONG),
    (GOOD, WHITE),
    (BAD, WHITE),
)
"""Every colour of text with what is behind it."""

SCREEN = f"""\
*{{box-sizing:border-box}}
html{{-webkit-text-size-adjust:100%}}
body{{margin:0 auto;padding:1rem;max-width:64rem;color:{INK};background:{WHITE};
font:16px/1.45 system-ui,-apple-system,"Segoe UI",Roboto,"Helvetica Neue","DejaVu Sans",sans-serif;
overflow-wrap:anywhere}}
h1{{font-size:1.5rem;line-height:1.2;margin:.2rem 0}}
h2{{font-size:1.15rem;line-height:1.25;margin:2rem 0 .5rem;padding-top:.4rem;
border-top:2px solid {INK}}}
h3{{font-size:1rem;margin:1.2rem 0 .3rem}}
p{{margin:.4rem 0;max-width:46rem}}
ul{{margin:.4rem 0;padding-left:1.2rem;max-width:46rem}}
li{{margin:.2rem 0}}
a{{color:{BLUE}}}
a:focus-visible,summary:focus-visible,.wide:focus-visible{{outline:3px solid {BLUE};
outline-offset:2px}}
.verb,.note,figcaption span{{color:{QUIET}}}
.strong{{font-weight:700}}
.verdict{{font-size:1.15rem;font-weight:700;padding:.5rem .7rem;border:2px solid;
border-left-width:.6rem;max-width:none}}
.good{{color:{GOOD}}}
.bad{{color:{BAD}}}
nav ul{{list-style:none;padding:0;columns:16rem;max-width:none}}
dl{{display:grid;grid-template-columns:minmax(6rem,max-content) minmax(0,1fr);gap:.15rem 1rem;
margin:.4rem 0}}
dt{{grid-column:1;color:{QUIET}}}
dd{{grid-column:2;margin:0}}
.wide{{position:relative;overflow-x:auto;margin:.5rem 0}}
table{{border-collapse:collapse;font-size:.9rem;font-variant-numeric:tabular-nums}}
caption{{text-align:left;padding:.3rem 0;font-weight:700}}
caption>span:not(.unseen){{position:sticky;left:0;display:inline-block;max-width:calc(100vw - 2rem);
white-space:normal}}
td a,th a{{text-decoration-thickness:1px;text-decoration-style:dotted}}
th,td{{padding:.2rem .6rem;text-align:left;vertical-align:top;border-bottom:1px solid {FAINT};
overflow-wrap:normal;font-weight:400;white-space:nowrap}}
thead th{{vertical-align:bottom;background:{SHADE};border-bottom:2px solid {INK};font-weight:700}}
th.number,td.number{{text-align:right;white-space:pre}}
th.wraps,td.wraps{{min-width:9rem;white-space:normal}}
thead th{{white-space:normal}}
tr.key>*{{background:{STRONG};font-weight:700;border-top:2px solid {INK};
border-bottom:2px solid {INK}}}
.mark{{white-space:nowrap}}
figure{{margin:1rem 0 2rem}}
figcaption{{max-width:46rem;margin-bottom:.4rem}}
figure svg{{display:block;width:100%;min-width:40rem;max-width:56rem;height:auto}}
details{{margin:.4rem 0;border:1px solid {FAINT};padding:.3rem .6rem}}
code{{font:.9em ui-monospace,Menlo,Consolas,"DejaVu Sans Mono",monospace}}
summary{{cursor:pointer;font-weight:700}}
details>div{{scroll-margin-top:3rem}}
pre{{white-space:pre-wrap;overflow-wrap:anywhere;background:{SHADE};padding:.6rem;margin:.4rem 0;
font:.8rem/1.4 ui-monospace,Menlo,Consolas,"DejaVu Sans Mono",monospace}}
.sign{{width:100%}}
.sign td{{height:2.6rem;min-width:7rem;border-bottom:1px solid {RULE}}}
footer{{margin-top:2rem;border-top:2px solid {INK};padding-top:.4rem;font-weight:700}}
.unseen{{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%);
white-space:nowrap}}
@media (max-width:30rem){{
body{{padding:.7rem}}
dl{{display:block}}
dd{{margin:0 0 .2rem}}
dt{{margin-top:.4rem}}
table{{font-size:.8rem}}
th,td{{padding:.2rem .35rem;white-space:normal}}
th.wraps,td.wraps{{min-width:6rem}}
}}
"""

PRINT = f"""\
@page{{margin:14mm 12mm 16mm}}
@media print{{
body{{padding:0;max-width:none;font-size:9pt}}
h1{{font-size:14pt}}
h2{{font-size:11pt;margin-top:12pt}}
h3{{font-size:9.5pt}}
nav{{display:none}}
a{{color:{INK};text-decoration:none}}
p,ul{{max-width:none;orphans:3;widows:3}}
h1,h2,h3,caption,figcaption,summary{{break-after:avoid}}
li,dt,dd,tr,figure,.sign,.verdict{{break-inside:avoid}}
thead{{display:table-header-group}}
.wide{{overflow:visible}}
table{{font-size:7.5pt;max-width:100%}}
th,td{{padding:1pt 4pt;white-space:normal}}
th.number,td.number{{white-space:pre-wrap}}
th.wraps,td.wraps{{min-width:0}}
th,td{{overflow-wrap:anywhere}}
table.many{{font-size:6pt}}
table.many th,table.many td{{padding:1pt 2pt}}
figure svg{{min-width:0;width:100%;max-width:160mm;max-height:215mm}}
figure{{margin:4mm 0}}
details{{border:0;padding:0}}
.input::details-content{{content-visibility:visible;display:block;block-size:auto}}
.demand:not([open]){{display:none}}
summary{{list-style:none}}
pre{{font-size:7pt;padding:2mm;border:1px solid {FAINT};background:none}}
.verdict,.mark,tr.key>*,thead th{{-webkit-print-color-adjust:exact;print-color-adjust:exact}}
}}
"""

CSS = SCREEN + PRINT
