//! The look of the page: ruled paper with a red margin line, ink by day and by night.

/// Hatching for what is lost, stripes for what cannot be painted; pictures refer to them.
pub(crate) const STRIPES: &str = "<svg class=\"patterns\" width=\"0\" height=\"0\" aria-hidden=\"true\"><defs>\
<pattern id=\"hatch\" width=\"5\" height=\"5\" patternUnits=\"userSpaceOnUse\" patternTransform=\"rotate(45)\">\
<rect class=\"hatch-ground\" width=\"5\" height=\"5\"/><line class=\"hatch-line\" x1=\"0\" y1=\"0\" x2=\"0\" y2=\"5\"/></pattern>\
<pattern id=\"stripe\" width=\"8\" height=\"8\" patternUnits=\"userSpaceOnUse\" patternTransform=\"rotate(45)\">\
<line class=\"stripe-line\" x1=\"1\" y1=\"0\" x2=\"1\" y2=\"8\"/></pattern></defs></svg>\n";

/// Text on paper and on washes keeps a contrast of at least 4.5 to 1 in both schemes.
pub(crate) const SHEET: &str = "
:root { color-scheme: light dark; --paper: #FBF6EA; --ink: #1F1A14; --faint: #DDD2BC; --rule: #B9AB8F; --margin: #B5453C;
  --link: #2B5F7A; --stop: #9C1F1F; --water: #C5DCE8; --wort: #E9C98F; --added: #E3A9C4; --added-edge: #A63D6E; --juice: #C2185B;
  --target: #9A3B12; }
@media screen and (prefers-color-scheme: dark) { :root { --paper: #1B1712; --ink: #EFE6D3; --faint: #3A332A;
  --rule: #6B5F4E; --margin: #A8574C; --link: #8FC4DD; --stop: #F09A8E; --water: #27495A; --wort: #63471A;
  --added: #6E2E4C; --added-edge: #D77BA5; --juice: #F06AA0; --target: #F0A878; } }
* { box-sizing: border-box; }
body { margin: 0; background: var(--paper); color: var(--ink);
  font: 1rem/1.5 'Iowan Old Style', 'Palatino Linotype', Palatino, Georgia, 'DejaVu Serif', serif; }
.patterns { position: absolute; }
.page { max-width: 46rem; min-height: 100vh; margin: 0 auto; padding: 0 1rem 0 1.2rem;
  border-left: 3px double var(--margin); overflow-wrap: break-word; }
header { padding-top: 1.5rem; }
h1 { font-size: 2rem; line-height: 1.25; margin: 0; font-weight: normal; font-style: italic; }
h2 { font-size: 1.3rem; font-weight: normal; font-style: italic; margin: 0 0 .6rem;
  border-bottom: 1px solid var(--ink); }
h3 { font-size: 1rem; margin: 1.2rem 0 .2rem; }
p { margin: .4rem 0; }
section { padding: 1.6rem 0 .4rem; }
a { color: var(--link); text-underline-offset: .2em; }
a:focus-visible { outline: 3px solid var(--link); outline-offset: 3px; }
nav ul { margin: 0; padding: .8rem 0 0; list-style: none; display: flex; flex-wrap: wrap; gap: .2rem 1.2rem; }
.field { white-space: nowrap; }
.blank { display: inline-block; min-width: 5rem; height: 1em; border-bottom: 1px dotted var(--ink); }
.stop { border: 2px solid var(--stop); padding: .5rem .8rem; margin: 1rem 0; }
.stop strong { color: var(--stop); }
.care { font-size: .9em; border-left: 2px solid var(--stop); padding-left: .6rem; margin: .3rem 0 .5rem; }
.care ul { list-style: none; padding: 0; } .care li + li { margin-top: .35rem; }
@media screen and (min-width: 60rem) { .page { max-width: 62rem; }
  .beside { display: grid; grid-template: auto 1fr / minmax(0, 1fr) 24rem; column-gap: 2rem; }
  .aside { grid-area: 1 / 2 / span 2; } }
figure { margin: .6rem 0 1rem; }
figcaption { font-size: .9em; max-width: 34rem; margin: 0 auto; }
.picture { display: block; width: 100%; max-width: 30rem; height: auto; margin: 0 auto .5rem; }
.picture text { font: 12px/1 'Iowan Old Style', 'Palatino Linotype', Palatino, Georgia, 'DejaVu Serif', serif; fill: var(--ink); }
.picture .name { font-style: italic; }
.picture path { fill: none; }
.picture .water { fill: var(--water); } .picture .wort { fill: var(--wort); }
.picture .added { fill: var(--added); stroke: var(--added-edge); stroke-width: .7; }
.picture .lost { fill: url(#hatch); stroke: var(--rule); stroke-width: .8; }
.picture .axis { fill: none; stroke: var(--ink); stroke-width: 1.2; }
.picture .rule { stroke: var(--faint); stroke-width: .6; } .picture .strong { stroke: var(--rule); }
.picture .target { stroke: var(--target); stroke-width: 1.2; stroke-dasharray: 5 3; }
.picture .target.added { stroke: var(--juice); stroke-dasharray: 1.5 3; fill: none; stroke-width: 1.8; }
.picture .leader { stroke: var(--rule); stroke-width: .8; }
.picture .start { fill: var(--target); }
.picture .hold { fill: none; stroke: var(--rule); }
.picture .stripes { fill: url(#stripe); }
.hatch-ground { fill: var(--paper); } .hatch-line { stroke: var(--rule); stroke-width: 1.6; }
.stripe-line { stroke: var(--juice); stroke-width: 2; }
table { border-collapse: collapse; width: 100%; font-variant-numeric: tabular-nums; }
th, td { text-align: left; font-weight: normal; padding: .2rem .5rem .2rem 0; vertical-align: top;
  border-bottom: 1px solid var(--faint); }
thead th { font-style: italic; }
.figures td { white-space: nowrap; }
td.amount { text-align: right; white-space: nowrap; width: 6.2rem; }
td.clock { text-align: right; white-space: nowrap; width: 3rem; font-style: italic; }
.amounts td:last-child { overflow-wrap: anywhere; }
.amounts td:first-child { width: 1.5rem; }
.note { font-size: .9em; font-style: italic; }
.box { display: inline-block; width: .8em; height: .8em; border: 1.5px solid var(--ink); }
ul, ol { padding-left: 1.2rem; margin: .3rem 0; }
.shopping { list-style: none; padding: 0; columns: 15rem; }
.shopping li { break-inside: avoid; padding: .1rem 0 .1rem 1.3rem; text-indent: -1.3rem; }
.noticed { width: auto; } .noticed th, .noticed td { padding-right: 1.1rem; white-space: nowrap; }
.dots { white-space: nowrap; }
.dot { display: inline-block; border: .26em solid var(--target); border-radius: 50%; margin-left: .14em; }
.dot.half { border-width: .08em; width: .52em; height: .52em; }
.small { font-size: .9em; }
@media (max-width: 30rem) { .figures th, .figures td { font-size: .84rem; padding-right: .3rem; } .figures .read { display: none; }
  .blank { min-width: 3.5rem; } .amounts td { padding-right: .35rem; }
  td.amount { width: 4.6rem; } td.clock { width: 2.4rem; } .amounts td:first-child { width: 1.2rem; } .noticed th, .noticed td { padding-right: .6rem; } }
@media print { @page { size: A4; margin: 14mm; }
  :root { --paper: #FFFFFF; font-size: 10pt; }
  .page { max-width: none; min-height: 0; padding-right: 0; } nav { display: none; } section { padding-top: .9rem; }
  h2, h3 { break-after: avoid; } figure, tr, .stop, li, .care { break-inside: avoid; }
  .beside { display: grid; grid-template: auto 1fr / minmax(0, 1fr) 78mm; column-gap: 5mm; }
  .aside { grid-area: 1 / 2 / span 2; } .shopping { columns: 2; } .figures { font-size: .78em; } .figures .blank { min-width: 2.2rem; }
  .figures th, .figures td { padding-right: .5rem; }
  .picture { max-width: 78mm; } .picture, .picture * { print-color-adjust: exact; -webkit-print-color-adjust: exact; } }
";
