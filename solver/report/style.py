"""The look of the report: ink on paper, one warm colour for what is over.

Everything it says in colour it says in shape or words as well.
"""

from __future__ import annotations

CSS = """
:root{--ink:#22282a;--soft:#5c666a;--rule:#c9ccc8;--paper:#fdfcf9;--over:#8a2f14;
--calm:#2f5d54;--text:"Iowan Old Style","Palatino Linotype",Palatino,"URW Palladio L",
P052,"Book Antiqua",Georgia,serif}
*{box-sizing:border-box}
html{background:var(--paper);color:var(--ink);font:15.5px/1.5 var(--text);
font-variant-numeric:lining-nums}
body{max-width:52rem;margin:0 auto;padding:2.6rem 1.5rem 4rem}
h1{font-weight:400;font-size:2rem;line-height:1.15;margin:0 0 .3rem}
h2{font-weight:400;font-size:1.32rem;margin:2.9rem 0 .3rem;padding-top:.55rem;
border-top:2px solid var(--ink);break-after:avoid}
h3{font-weight:600;font-size:1rem;margin:1.5rem 0 .35rem;break-after:avoid}
p{margin:.4rem 0;max-width:42rem}
ul{margin:.4rem 0;padding-left:1.15rem;max-width:42rem}
li{margin:.18rem 0}
.lead{color:var(--soft);font-style:italic;break-after:avoid}
.under{color:var(--soft);margin:0}
.overall{display:flex;gap:.8rem;align-items:center;border:1.5px solid var(--ink);
padding:.75rem 1rem;margin:1.3rem 0 .8rem;font-size:1.25rem;break-inside:avoid}
.overall svg{width:26px;height:26px;flex:none}
.overall small{display:block;font-size:.83rem;color:var(--soft)}
.caution{border-left:4px double var(--ink);padding:.1rem 0 .1rem .8rem;
font-size:.92rem;margin:.8rem 0}
.verdict{white-space:nowrap}
.mark{vertical-align:-1.5px;margin-right:.15em}
.bar{vertical-align:-2px;overflow:visible}
.bar .fill{fill:#7d8a86}
.told{display:grid;grid-template-columns:1.6rem 1fr;margin:1rem 0;break-inside:avoid}
.told>svg{width:15px;height:15px;margin-top:.28rem}
.told h3{margin:0 0 .2rem}
.told dl{display:grid;grid-template-columns:4.2rem 1fr;margin:0;gap:.12rem .3rem}
.told dt{color:var(--soft);font-style:italic}
.told dd{margin:0;max-width:40rem}
table{border-collapse:collapse;width:100%;margin:.7rem 0 1.1rem;font-size:.83rem;
line-height:1.32;font-variant-numeric:lining-nums tabular-nums}
caption{text-align:left;font-weight:600;padding:.2rem 0;break-after:avoid}
thead th{font-weight:400;font-style:italic;color:var(--soft);text-align:left;
vertical-align:bottom;border-bottom:1px solid var(--ink);padding:.15rem .45rem .2rem 0}
tbody th{font-weight:600;text-align:left;min-width:4.2rem}
.k{white-space:nowrap}
tbody th,td{border-bottom:1px solid var(--rule);padding:.2rem .45rem .2rem 0;
vertical-align:top}
tr{break-inside:avoid}
thead{display:table-header-group}
.n{text-align:right!important;white-space:nowrap;padding-right:.8rem}
table.sum td:nth-child(2){white-space:nowrap;text-align:right;padding-right:1rem}
table.sum{max-width:42rem;table-layout:fixed}
table.sum thead th:nth-child(1){width:8.2rem}
table.sum thead th:nth-child(2){width:8.6rem}
sub{font-size:.78em;line-height:0}
table.sum tr.last th,table.sum tr.last td{border-bottom:2px solid var(--ink)}
.equation{font-size:.9rem}
.check table.sum{margin:.3rem 0 .8rem}
figure{margin:1.1rem 0 1.5rem;break-inside:avoid}
figure>svg{width:100%;height:auto;display:block;overflow:visible}
figcaption{font-size:.86rem;color:var(--soft);max-width:42rem;margin-top:.5rem}
svg text{font-family:var(--text);font-variant-numeric:lining-nums tabular-nums}
.story{columns:2;column-gap:2rem;font-size:.92rem}
pre{font:11px/1.35 ui-monospace,"DejaVu Sans Mono",Menlo,Consolas,monospace;
white-space:pre-wrap;overflow-wrap:anywhere;columns:2;column-gap:1.5rem;
border-top:1px solid var(--rule);padding-top:.6rem}
.scroll{overflow-x:auto}
nav{font-size:.86rem;margin:1.2rem 0;columns:3;column-gap:1.5rem;max-width:46rem}
nav a{color:inherit;text-decoration:none;border-bottom:1px solid var(--rule);
display:block;padding:.1rem 0;break-inside:avoid}
@media(max-width:640px){body{padding:1.2rem .9rem}.story,pre,nav{columns:1}
.told dl{grid-template-columns:1fr}}
@page{margin:17mm 15mm 18mm}
@media print{html{font-size:10.4pt;background:#fff}body{max-width:none;padding:0}
.scroll{break-before:avoid}nav{display:none}h2{margin-top:1.7rem}.scroll{overflow:visible}
figure>svg{max-height:150mm}
table{font-size:.8rem}}
"""
