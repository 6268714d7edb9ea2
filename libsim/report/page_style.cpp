#include <lowspot/report/page_style.hpp>

namespace lowspot::report {
namespace {

constexpr const char* screen = R"css(
:root{color-scheme:light dark;--paper:#fcfbf8;--ink:#1c2127;--quiet:#565d66;--line:#d9d6cf;--raised:#fff;--accent:#12586b;
--good:#1d6b3c;--bad:#a3341c;--alert:#fdf1dc;--rain:#8fb8d8;--s0:#6a6f77;--s1:#0a6aa1;--s2:#ad5208;--s3:#6b41a5;--s4:#24743b;--s5:#a02063;
--stone:#d8cfc0;--pipe:#8d99a6;--ground:#5a4630;--water:#0a6aa1}
@media (prefers-color-scheme:dark){:root{--paper:#15191e;--ink:#e7e8ea;--quiet:#a5acb5;--line:#353b43;--raised:#1d2228;--accent:#7cc4d8;
--good:#7fce9a;--bad:#f0957f;--alert:#3a2f1a;--rain:#3f6f95;--s0:#a2a8b0;--s1:#62b4e8;--s2:#f0a35e;--s3:#bb9af0;--s4:#7fcf93;--s5:#ee86b7;
--stone:#4d473d;--pipe:#8d99a6;--ground:#c9a97f;--water:#62b4e8}}
*{box-sizing:border-box}
body{margin:0 auto;max-width:68rem;padding:1.5rem clamp(1rem,4vw,2.5rem) 3rem;background:var(--paper);color:var(--ink);
font:16px/1.55 system-ui,"Segoe UI",Roboto,"Liberation Sans","DejaVu Sans",sans-serif;overflow-wrap:anywhere}
h1{font-size:clamp(1.5rem,1.1rem + 2vw,2.2rem);line-height:1.15;margin:0 0 .3rem;letter-spacing:-.01em}
.first{margin-top:1.2rem!important}
h2{font-size:1.05rem;margin:3rem 0 0;padding-top:.7rem;border-top:3px solid var(--accent);color:var(--accent);font-weight:600}
h3{font-size:1.35rem;line-height:1.25;margin:1.6rem 0 .6rem}
h4{margin:0 0 .3rem}
p,ul{max-width:46rem}
a{color:var(--accent)}
li{margin:.3rem 0}
.quiet{color:var(--quiet);font-size:.92rem}
.sentence{font-size:clamp(1.15rem,1rem + .8vw,1.5rem);line-height:1.4;margin:1rem 0 1.2rem;text-wrap:pretty}
nav ul{list-style:none;display:flex;flex-wrap:wrap;gap:.2rem 1.1rem;margin:.8rem 0 0;padding:0;max-width:none;font-size:.92rem}
.cards{list-style:none;margin:0 0 1rem;padding:0;max-width:none;display:grid;gap:1rem;grid-template-columns:repeat(auto-fit,minmax(15rem,1fr))}
.card{margin:0;padding:1rem 1.1rem;background:var(--raised);border:1px solid var(--line);border-radius:.5rem}
.card.chosen{border:2px solid var(--accent)}
.card h3{font-size:1rem;margin:0}
.card p{margin:.15rem 0}
.figure{font-size:2.3rem;line-height:1.15;font-weight:650;font-variant-numeric:tabular-nums}
.bar{height:.5rem;margin:.5rem 0;border-radius:.25rem;background:linear-gradient(90deg,transparent calc(50% - 1px),var(--ink) 0,var(--ink) calc(50% + 1px),transparent 0),var(--line);position:relative}
.bar span{display:block;height:100%;border-radius:.25rem;background:var(--accent);opacity:.8}
.met{color:var(--good);font-weight:600}.unmet{color:var(--bad);font-weight:600}
figure{margin:1rem 0}
figcaption{color:var(--quiet);font-size:.92rem;margin:.3rem 0}
figcaption b{color:var(--ink)}
.paper{background:#fff;border-radius:.4rem}
figure.paper{padding:.5rem;border:1px solid var(--line)}
figure.paper figcaption{color:#4d545c;padding:0 .5rem}
img{display:block;max-width:100%;height:auto}
figure.paper img{margin:0 auto}figure.paper .scroll{margin:0}.scroll img{min-width:42rem}
.scroll{overflow-x:auto;margin:1rem 0}
table{border-collapse:collapse;width:100%;font-size:.92rem;font-variant-numeric:tabular-nums;overflow-wrap:normal}
caption{text-align:left;font-weight:600;padding:.2rem 0 .4rem}
@media screen and (max-width:40rem){caption{max-width:calc(100vw - 2.2rem)}.scroll tbody th[scope=row]{position:sticky;left:0;background:var(--paper)}}
th,td{padding:.38rem .55rem;text-align:left;vertical-align:top;border-bottom:1px solid var(--line)}
thead th{color:var(--quiet);font-weight:500;font-size:.85rem;vertical-align:bottom;border-bottom:2px solid var(--line)}
tbody th{font-weight:600}
.n{text-align:right}td.n{white-space:nowrap}
th:first-child{padding-left:0}
.alert{background:var(--alert);border-left:4px solid var(--bad);padding:.6rem .9rem;border-radius:.2rem}
.alert ul{margin:.2rem 0;padding-left:1.2rem}
.controls{display:flex;flex-wrap:wrap;align-items:center;gap:.6rem 1rem}
.controls input{flex:1 1 14rem;accent-color:var(--accent);min-height:2rem}
.controls output{flex:1 1 100%;font-weight:600}
button{font:inherit;padding:.35rem 1.1rem;border-radius:.4rem;border:1px solid var(--accent);background:var(--accent);color:var(--paper);cursor:pointer;min-width:6rem}
:focus-visible{outline:3px solid var(--s2);outline-offset:2px}
.panels{display:grid;gap:1rem;grid-template-columns:repeat(auto-fit,minmax(min(100%,24rem),1fr))}
.panels figure{margin:.6rem 0}
.stack{position:relative;overflow:hidden}
.stack img{width:100%}
.stack canvas{position:absolute;transform-origin:0 0}.stack img+canvas+img{position:absolute;inset:0;height:100%}
.swipe-stage{position:relative;overflow:hidden;max-width:46rem;--at:50%;touch-action:pan-y}
.swipe-stage img{display:block;width:100%}.swipe-side{position:absolute;inset:0}.swipe-side img{position:absolute;inset:0;height:100%}
#swipe-left-side{clip-path:inset(0 calc(100% - var(--at)) 0 0)}#swipe-right-side{clip-path:inset(0 0 0 var(--at))}
.swipe-bar{position:absolute;top:0;bottom:0;left:var(--at);width:3px;margin-left:-1.5px;background:#12586b;box-shadow:0 0 0 1px #fff;pointer-events:none}
.swipe-bar::after{content:"\2194";position:absolute;top:50%;left:50%;transform:translate(-50%,-50%);width:2.2rem;line-height:2.2rem;text-align:center;border-radius:50%;background:#12586b;color:#fff}
#swipe-at{position:absolute;inset:0 -1.5rem;width:calc(100% + 3rem);height:100%;margin:0;opacity:0;cursor:ew-resize;touch-action:pan-y;-webkit-appearance:none;appearance:none}
#swipe-at::-webkit-slider-runnable-track{height:100%}#swipe-at::-webkit-slider-thumb{-webkit-appearance:none;width:3rem;height:100%}
#swipe-at:focus-visible+.swipe-bar{outline:3px solid var(--s2);outline-offset:2px}
.swipe-names{display:flex;justify-content:space-between;gap:1rem;max-width:46rem;font-size:.92rem}.swipe-names p{margin:.3rem 0;max-width:48%}.swipe-names p+p{text-align:right}
.swipe-names span{display:block;color:var(--quiet)}
select{font:inherit;max-width:100%;padding:.3rem .4rem;border-radius:.4rem;border:1px solid var(--quiet);background:var(--raised);color:var(--ink)}
.controls label{min-width:0}
.legend{font-size:.88rem;display:flex;flex-wrap:wrap;gap:.2rem .9rem;max-width:none}
.legend i{display:inline-block;width:1.1em;height:1.1em;vertical-align:-.2em;margin-right:.35em;border:1px solid var(--quiet)}
.chart{display:block;width:100%;max-width:52rem;height:auto;background:var(--raised);border:1px solid var(--line);border-radius:.4rem;padding:.4rem}
.key{display:none;flex-wrap:wrap;gap:.2rem 1rem;margin:.3rem 0;font-size:.85rem}.key svg{vertical-align:-.15em}
.chart text{fill:var(--ink);font:12px system-ui,"Liberation Sans","DejaVu Sans",sans-serif}
.chart .small{font-size:11px;fill:var(--quiet);paint-order:stroke;stroke:var(--raised);stroke-width:3px}
.chart .grid{stroke:var(--line);stroke-width:1}.chart .axis{stroke:var(--quiet);stroke-width:1}
.chart .mark{stroke:var(--quiet);stroke-width:1;stroke-dasharray:4 3}
.line{fill:none;stroke-width:2.2;stroke-linejoin:round}
.rain{fill:var(--rain)}
.s0{stroke:var(--s0);stroke-dasharray:7 4}.s1{stroke:var(--s1)}.s2{stroke:var(--s2);stroke-dasharray:10 3 2 3}
.s3{stroke:var(--s3);stroke-dasharray:3 3}.s4{stroke:var(--s4);stroke-dasharray:14 4}.s5{stroke:var(--s5);stroke-dasharray:2 2}
.line.p1{stroke-dasharray:1.5 3.5;stroke-width:2.6}.line.p2{stroke-dasharray:18 3 1 3;stroke-width:1.3}
.chart .band{stroke-width:11;stroke-dasharray:none;stroke-opacity:.45}.chart .middle{stroke-width:3;stroke-dasharray:none}
.chart .ground{fill:none;stroke:var(--ground);stroke-width:2.4}.chart .stone{fill:var(--stone)}
.chart .pipe{fill:var(--pipe);fill-opacity:.55;stroke:var(--ink);stroke-width:1}
.chart .water{fill:none;stroke:var(--water);stroke-width:2;stroke-dasharray:5 3}
@media screen and (max-width:40rem){figure{overflow-x:auto}.chart{overflow:visible;padding:.2rem}.chart text{font-size:20px}.chart .small{font-size:17px}.in-chart{display:none}.key{display:flex}}
summary{cursor:pointer;font-weight:600}
footer{margin-top:3rem;padding-top:.8rem;border-top:1px solid var(--line)}
[hidden],.only-paper{display:none!important}
@media (max-width:40rem){td:not(.n){min-width:5rem}th.name,td.name{min-width:7rem}td.long{min-width:15rem}thead th.n{min-width:3.4rem}}
@media screen{.scroll:has(>table){background:linear-gradient(90deg,var(--paper) 40%,transparent) 0 0/2.5rem 100% no-repeat local,linear-gradient(270deg,var(--paper) 40%,transparent) 100% 0/2.5rem 100% no-repeat local,linear-gradient(90deg,#8888,transparent) 0 0/.8rem 100% no-repeat scroll,linear-gradient(270deg,#8888,transparent) 100% 0/.8rem 100% no-repeat scroll}}
)css";

constexpr const char* print = R"css(
@media print{
html{font-size:8.2pt}
:root{color-scheme:light;--paper:#fff;--ink:#000;--quiet:#3c4046;--line:#c9c9c9;--raised:#fff;--accent:#0d4656;--good:#14542e;--bad:#8a2812;
--alert:#f6efe0;--rain:#9dbdd6;--s0:#55595f;--s1:#0a5a8a;--s2:#8f4306;--s3:#573388;--s4:#1b5c2e;--s5:#80184e;
--stone:#ddd5c8;--pipe:#8d99a6;--ground:#4a3924;--water:#0a5a8a}
body{max-width:none;padding:0;font-size:8.2pt;line-height:1.3;print-color-adjust:exact;-webkit-print-color-adjust:exact}
h1{font-size:17pt}h2{margin:1rem 0 0;font-size:10pt;break-after:avoid}h2.first{margin-top:.6rem}h3{font-size:11pt;margin:.6rem 0 .2rem;break-after:avoid}
nav,.only-screen,details:not([open]){display:none!important}.only-paper{display:block!important}
.sentence{font-size:12pt;margin:.5rem 0}.figure{font-size:18pt}.cards{gap:.5rem}.card{padding:.4rem .6rem}
p,ul{max-width:none}ul{margin:.3rem 0}li{margin:.1rem 0}
table{font-size:7.5pt}summary{display:none}
.twice{columns:2;column-gap:6mm;break-inside:avoid}.scroll img{min-width:0}h2{padding-top:.3rem}th,td{padding:.14rem .3rem}.scroll{overflow:visible;margin:.4rem 0}
figure,tr,.card,li{break-inside:avoid}caption,thead,h4{break-after:avoid}.alert li:first-child{break-before:avoid}tbody tr:first-child{break-before:avoid}
figure{margin:.4rem 0}figure:not(.paper):has(>.chart){display:inline-block;width:49%;vertical-align:top}figure.paper{border:0;padding:0}figure.paper img{max-height:76mm}
.chart{max-width:none;max-height:38mm;border:0;padding:0}
main>figure:not(.paper):only-of-type:has(>.chart){width:100%}main>figure:only-of-type>.chart{max-height:80mm}
section>figure:not(.paper):only-of-type:has(>.chart){width:100%}section>figure:only-of-type>.chart{max-height:46mm}
.legend{margin:.1rem 0;font-size:7.2pt;line-height:1.2}figcaption{margin:.1rem 0}
footer{display:none}
}
)css";

} // namespace

std::string page_style(bool metric) {
  std::string style = screen;
  style += print;
  style += metric ? "@page{size:A4;" : "@page{size:letter;";
  return style +
         "margin:13mm 13mm 15mm;@bottom-left{content:\"Planning aid: not a survey, certification or "
         "guarantee. "
         "Local code governs.\";font:8pt sans-serif;color:#555}@bottom-right{content:counter(page);font:8pt "
         "sans-serif;color:#555}}\n";
}

} // namespace lowspot::report
