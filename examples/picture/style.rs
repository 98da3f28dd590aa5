//! The look of the page: ruled paper with a red margin line, ink by day and by night.

/// Text on paper keeps a contrast of at least 4.5 to 1 in both schemes.
pub(crate) const SHEET: &str = "
:root { color-scheme: light dark; --paper: #FBF6EA; --ink: #1F1A14; --faint: #CFC3AB; --margin: #B5453C;
  --malt: #9A5B12; --juice: #8A2352; --water: #2B5F7A; --stop: #9C1F1F; }
@media screen and (prefers-color-scheme: dark) { :root { --paper: #1B1712; --ink: #EFE6D3; --faint: #4F4538;
  --margin: #A8574C; --malt: #E0A24A; --juice: #E88BB5; --water: #8FC4DD; --stop: #F09A8E; } }
* { box-sizing: border-box; }
body { margin: 0; background: var(--paper); color: var(--ink);
  font: 1rem/1.5 'Iowan Old Style', 'Palatino Linotype', Palatino, Georgia, 'DejaVu Serif', serif; }
.page { max-width: 48rem; min-height: 100vh; margin: 0 auto; padding: 0 1rem 0 1.4rem;
  border-left: 3px double var(--margin); overflow-wrap: break-word; }
header { padding-top: 1.5rem; }
h1 { font-size: 2rem; line-height: 1.15; margin: 0; font-weight: normal; font-style: italic; }
h2 { font-size: 1.3rem; font-weight: normal; font-style: italic; margin: 0 0 .6rem;
  border-bottom: 1px solid var(--ink); }
h3 { font-size: 1rem; margin: 1.1rem 0 .2rem; }
p { margin: .4rem 0; }
section { padding: 1.6rem 0 .4rem; }
a { color: var(--water); text-underline-offset: .2em; }
a:focus-visible { outline: 3px solid var(--malt); outline-offset: 3px; }
nav ol { margin: 0; padding: .8rem 0 0 1.2rem; columns: 13rem; }
nav li { padding: .15rem 0; break-inside: avoid; }
.field { white-space: nowrap; }
.blank { display: inline-block; min-width: 6rem; border-bottom: 1px dotted var(--ink); }
.stop { border: 2px solid var(--stop); padding: .5rem .8rem; margin: 1rem 0; }
.stop strong { color: var(--stop); }
figure { margin: .6rem 0 1rem; }
figcaption { font-size: .9em; }
.picture { display: block; width: 100%; max-width: 32rem; height: auto; margin: 0 auto .5rem; }
.picture text { font-family: inherit; }
.picture [fill='#1F1A14'] { fill: var(--ink); } .picture [stroke='#1F1A14'] { stroke: var(--ink); }
.picture [fill='#CFC3AB'] { fill: var(--faint); } .picture [stroke='#CFC3AB'] { stroke: var(--faint); }
.picture [fill='#9A5B12'] { fill: var(--malt); } .picture [stroke='#9A5B12'] { stroke: var(--malt); }
.picture [fill='#8A2352'] { fill: var(--juice); } .picture [stroke='#8A2352'] { stroke: var(--juice); }
.picture [fill='#2B5F7A'] { fill: var(--water); } .picture [stroke='#2B5F7A'] { stroke: var(--water); }
table { border-collapse: collapse; width: 100%; font-variant-numeric: tabular-nums; }
th, td { text-align: left; font-weight: normal; padding: .2rem .5rem .2rem 0; vertical-align: top;
  border-bottom: 1px solid var(--faint); }
thead th { font-style: italic; }
.figures td { white-space: nowrap; }
td.amount, th.amount { text-align: right; white-space: nowrap; width: 6.5rem; }
.amounts td:first-child { width: 1.6rem; }
.box { display: inline-block; width: .8em; height: .8em; border: 1.5px solid var(--ink); }
ul, ol.plain { padding-left: 1.2rem; margin: .3rem 0; }
.small { font-size: .9em; }
@media (max-width: 30rem) { .figures th, .figures td { font-size: .88rem; } .figures .read { display: none; }
  .blank { min-width: 4rem; } }
@media print { @page { size: A4; margin: 14mm; }
  :root { --paper: #FFFFFF; font-size: 10pt; }
  .page { max-width: none; min-height: 0; padding-right: 0; } nav { display: none; } section { padding-top: .9rem; } a { color: inherit; text-decoration: none; }
  h2, h3 { break-after: avoid; } figure, tr, .stop, li { break-inside: avoid; }
  .picture { max-width: 92mm; } .picture, .picture * { print-color-adjust: exact; -webkit-print-color-adjust: exact; } }
";
