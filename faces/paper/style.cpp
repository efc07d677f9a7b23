#include "faces/paper/style.hpp"

namespace pappus::paper {
namespace {

std::string variables(bool dark) {
  std::string out = ":root{";
  for (const Colour& c : kPalette) {
    out += "--";
    out += c.name;
    out += ":";
    out += dark ? c.dark : c.light;
    out += ";";
  }
  return out + "}\n";
}

// Sizes are in rem, so that a reader who doubles the text gets a page of half the width: the layout follows by itself.
constexpr std::string_view kRules = R"css(
*{box-sizing:border-box}
html{color-scheme:light dark;-webkit-text-size-adjust:100%;text-size-adjust:100%;background:var(--ground)}
body{margin:0 auto;max-width:76rem;padding:1rem 1rem 3rem;color:var(--ink);background:var(--ground);
font:1rem/1.42 "Segoe UI",Roboto,"Helvetica Neue",Arial,"Liberation Sans",system-ui,sans-serif;
font-variant-numeric:tabular-nums;overflow-wrap:anywhere}
h1,h2,h3,p,ul,ol,dl,dd,figure,table{margin:0;padding:0}
h1{font-size:1.5rem;line-height:1.2;font-weight:650;letter-spacing:-.01em;unicode-bidi:isolate}
h2{font-size:1.0625rem;line-height:1.3;font-weight:650;padding-top:.45rem;border-top:2px solid var(--ink);margin-bottom:.5rem}
h3{font-size:.875rem;line-height:1.3;font-weight:650;margin:1rem 0 .25rem}
small,.small{font-size:.8125rem;color:var(--quiet)}
a{color:var(--blue)}
a:focus-visible,[tabindex]:focus-visible{outline:3px solid var(--blue);outline-offset:2px}
li,td,th,dd,p{unicode-bidi:isolate}
ul{list-style:none}
ul.plain li,ol li{margin:.2rem 0}
ul.notes li,p.note{font-size:.8125rem;color:var(--quiet);margin:.2rem 0}
.wide{overflow-x:auto}
header{margin-bottom:1rem}
.kind{font-size:.8125rem;letter-spacing:.08em;color:var(--quiet);margin-bottom:.2rem}
.head{color:var(--quiet);margin-top:.3rem}
nav{margin:.6rem 0 0;font-size:.875rem}
nav ul{display:flex;flex-wrap:wrap;gap:.1rem 1.1rem}
nav a{display:inline-block;padding:.3rem 0}
.standing{border:1px solid var(--frame);border-left:.5rem solid currentColor;padding:.7rem 1rem;margin-top:.8rem;background:var(--panel)}
.standing .big{display:flex;gap:.5rem;align-items:center;font-size:1.25rem;line-height:1.25;font-weight:700}
.standing p+p{color:var(--ink);margin-top:.25rem}
.standing .mark{width:1.5rem;height:1.5rem}
.tag{display:inline-flex;gap:.35em;align-items:center;font-weight:650;font-size:.875rem;white-space:nowrap}
.mark{width:1em;height:1em;flex:none;overflow:visible}
.mark .open{fill:none;stroke:currentColor;stroke-width:1.8}
.mark .full{fill:currentColor}
.inside{color:var(--quiet)}.near{color:var(--care)}.outside{color:var(--bad)}.unknown{color:var(--unknown)}
span.tag.outside{background:var(--bad);color:var(--ground);padding:.05em .45em;margin-left:-.45em}
section{margin-top:1.6rem}
table{border-collapse:collapse;width:100%;font-size:.9375rem}
th,td{text-align:left;vertical-align:top;padding:.3rem .5rem .3rem 0;font-weight:400;border-top:1px solid var(--line)}
thead th{font-size:.8125rem;color:var(--quiet);border-top:0;vertical-align:bottom;padding-bottom:.15rem}
td small,th small{display:block}
td.n,th.n{text-align:right}
td:last-child,th:last-child{padding-right:0}
.wide thead th{overflow-wrap:normal}
.wide td{overflow-wrap:normal;white-space:nowrap}.wide td.free,.wide td small{white-space:normal}.wide td.free{overflow-wrap:anywhere}.wide th[scope=row]{min-width:6.5rem}
tfoot th,tfoot td{font-weight:650}
.limits,.limits thead,.limits tbody,.limits tr,.limits td,.limits th{display:block}
.limits tr{display:grid;grid-template-columns:7.5rem minmax(0,1fr) 6rem 6.5rem 10rem 5rem;column-gap:.75rem;
border-top:1px solid var(--line);padding:.4rem 0}
.limits td,.limits th{border:0;padding:0}
.limits thead tr{border:0;padding:0 0 .1rem}
.limits thead th:last-child{grid-column:2;grid-row:2;display:none}
.limits th[scope=row],.limits .value{font-weight:650}
.limits .says{grid-column:2/5;grid-row:2;font-size:.9375rem}
.limits .state{grid-column:1}.limits th[scope=row]{grid-column:2}.limits .value{grid-column:3}.limits .bound{grid-column:4}
.limits .whose{grid-column:5;grid-row:1/span 2}.limits .age{grid-column:6}
.limits .says p{margin:.1rem 0}
.limits .cure{padding-left:1.2em;text-indent:-1.2em}
.limits.calm .says{font-size:.8125rem;color:var(--quiet)}
.limits.calm th[scope=row],.limits.calm .value{font-weight:400}
dl.facts{display:grid;gap:0;font-size:.9375rem}
dl.facts>div{display:grid;grid-template-columns:minmax(0,1.2fr) minmax(0,1fr);gap:.75rem;border-top:1px solid var(--line);padding:.3rem 0}
dl.facts dt{color:var(--quiet)}
dl.facts b{font-weight:650}
dl.facts small{display:block}
.answer{margin:.15rem 0 .4rem}
.two-up{display:grid;grid-template-columns:minmax(0,1fr);gap:.5rem 2rem}
figure{margin:.4rem 0 .6rem}
figure svg{display:block;width:100%;max-width:34rem;height:auto;background:var(--panel);overflow:hidden}
figcaption{font-size:.8125rem;color:var(--quiet);margin-top:.3rem;max-width:34rem}
figcaption strong{color:var(--ink)}
svg text{paint-order:stroke;stroke:var(--panel);stroke-width:2.5px;stroke-linejoin:round;fill:var(--ink);font-family:inherit;font-variant-numeric:tabular-nums}
.lb{font-size:10px}.tk,.ax{font-size:9.5px}svg .tk,svg .ax{fill:var(--quiet)}.lbw{font-size:10px;font-weight:700}
svg .t-blue{fill:var(--blue);font-size:10px}svg .t-warm{fill:var(--warm);font-size:10px}
svg .t-bad{fill:var(--bad);font-size:10px;font-weight:700}
.grid{stroke:var(--line);stroke-width:.7;fill:none}
.edge{stroke:var(--axis);stroke-width:1;fill:none}
.bar{stroke:var(--axis);stroke-width:1.2;fill:none}
.s-blue{stroke:var(--blue);stroke-width:2;fill:none;stroke-linejoin:round}
.s-quiet{stroke:var(--axis);stroke-width:1.6;fill:none;stroke-linejoin:round}
.s-warm{stroke:var(--warm);stroke-width:2;fill:none;stroke-linejoin:round}
.s-ink{stroke:var(--ink);stroke-width:1.5;fill:none}
.s-bound{stroke:var(--bad);stroke-width:1.6;fill:none;stroke-dasharray:6 3}
.s-margin{stroke:var(--blue);stroke-width:4;fill:none;opacity:.45}
.s-load{stroke:var(--ink);stroke-width:1.6;fill:none;stroke-dasharray:2 2.5}
.f-blue{fill:var(--blue)}.f-warm{fill:var(--warm)}.f-ink{fill:var(--ink)}.f-quiet{fill:var(--axis)}
.ringed{fill:var(--panel);stroke:var(--ink);stroke-width:2}
.hatch{stroke:var(--unknown);stroke-width:.8;fill:none;opacity:.65}
rect.unknown{fill:none;stroke:var(--unknown);stroke-width:1}
.under{fill:var(--panel)}
.union{fill:var(--blue);opacity:.2}
.ceiling{stroke:var(--blue);stroke-width:.7;fill:var(--blue);fill-opacity:.015;stroke-opacity:.55;stroke-linejoin:round}
.ring{stroke:var(--axis);stroke-width:.7;fill:none;stroke-dasharray:1.5 2.5}
.sun{fill:var(--sun);fill-opacity:.22;stroke:var(--sun);stroke-width:1;stroke-dasharray:4 2}
.f-sun{fill:var(--sun)}
.place-yes{fill:var(--blue);stroke:var(--panel);stroke-width:1}
.place-no{fill:none;stroke:var(--bad);stroke-width:2.2}
.place-unknown{fill:var(--panel);stroke:var(--unknown);stroke-width:1.8}
.key{display:flex;flex-wrap:wrap;gap:.15rem 1rem;font-size:.8125rem;margin-top:.3rem}
.message{border-left:.25rem solid var(--line);padding-left:.8rem;margin:.3rem 0}
.message p{margin:.2rem 0}
.paper{display:none}
.sign{display:grid;grid-template-columns:7rem 1fr 1fr 5rem;gap:0 .8rem}
footer{margin-top:2rem;border-top:2px solid var(--ink);padding-top:.5rem;font-size:.8125rem;color:var(--quiet)}
@media (min-width:60em){
.two-up.unequal{grid-template-columns:minmax(0,5fr) minmax(0,4fr)}
dl.split{display:block;columns:2;column-gap:2.5rem}dl.split>div{break-inside:avoid}
body{padding:1.5rem 2rem 3rem}
.leaf{display:grid;grid-template-columns:minmax(0,1fr) minmax(0,1fr);gap:0 2.5rem;align-items:start}
.full{grid-column:1/-1}
.two-up{grid-template-columns:minmax(0,1fr) minmax(0,1fr)}
h1{font-size:1.75rem}
}
@media screen and (max-width:44em){
.limits thead{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%)}
.limits tr{grid-template-columns:auto minmax(0,1fr);gap:.05rem .7rem;padding:.55rem 0}
.limits .state{grid-column:1}.limits th[scope=row]{grid-column:2}
.limits .value,.limits .bound,.limits .whose,.limits .age,.limits .says{grid-column:1/-1}
.limits td[data-l]::before{content:attr(data-l) " ";color:var(--quiet);font-weight:400}
.limits tr{grid-template-columns:repeat(2,auto) minmax(0,1fr)}
.limits th[scope=row]{grid-column:2/-1}
.limits .value{grid-column:1}.limits .bound{grid-column:2/-1}
.limits .says,.limits .whose{grid-row:auto}
.limits .whose small{display:inline;margin-left:.4em}
.limits.calm tr{display:block;padding:.3rem 0}
.limits.calm td,.limits.calm th[scope=row]{display:inline;margin-right:.35em}
.limits.calm .value{font-weight:650}.limits.calm .value::before{content:none}
.limits.calm .says{display:block;margin:0}
table{font-size:.875rem}
.wide table{font-size:.8125rem}.wide th,.wide td{padding-right:.4rem}.wide th[scope=row]{min-width:3.5rem}
}
)css";

constexpr std::string_view kPrint = R"css(
@page{margin:7mm 8mm}
@media print{
html{font-size:6.6pt;color-scheme:light;background:none}
body{max-width:none;padding:0;background:none;line-height:1.2;-webkit-print-color-adjust:exact;print-color-adjust:exact}
small,.small,ul.notes li,p.note,figcaption,.limits.calm .says,thead th{font-size:.86rem}
nav{display:none}
section.paper,.paper{display:block}
.leaf{display:grid;grid-template-columns:minmax(0,1fr) minmax(0,1fr);gap:0 6mm;align-items:start}
.full{grid-column:1/-1}
section{margin-top:1.6mm}
h1{font-size:1.6rem}
h2{font-size:1.1rem;border-top-width:.8pt;padding-top:.4mm;margin-bottom:.4mm;break-after:avoid}
h3{font-size:1rem;margin:.8mm 0 .2mm;break-after:avoid}
header{margin-bottom:0}
.head{margin-top:.2mm}
.standing{padding:.8mm 2mm;margin-top:.8mm}
.standing .mark{width:1.2rem;height:1.2rem}
th,td{padding:.18mm 2mm .18mm 0}
.wide{overflow:visible}
.wide td small,.wide th small,dl.facts small{display:inline;margin-left:.5em}
.answer,ul.notes li,.message p,ul.plain li,ol li,.limits .says p{margin:.1mm 0}
ol{padding-left:3mm}
.limits .says p:not(.small){display:inline;margin-right:.6em;padding:0;text-indent:0}
.limits tr{padding:.25mm 0;break-inside:avoid;grid-template-columns:8.5rem minmax(0,1fr) 6.5rem 7.5rem 13rem 6rem}
.limits.calm thead{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%)}
.limits.calm tbody{columns:3;column-gap:5mm}
.limits.calm tr{display:block;padding-left:1.5rem;text-indent:-1.5rem}
.limits.calm td,.limits.calm th[scope=row]{display:inline;text-indent:0;margin-right:.4em}
.limits.calm .state .tag span{font-size:0}
.limits.calm .state,.limits.calm .tag{margin:0}
.limits.calm .tag{width:1.15rem}
.limits.calm .value{font-weight:650}
.limits.calm .whose,.limits.calm .whose small,.limits.calm .age{font-size:.86rem;color:var(--quiet)}
.limits.calm .whose small{display:inline;margin-left:.3em}
.limits.calm .age::before{content:attr(data-l) " "}
.limits.calm .says{display:none}
dl.facts>div{padding:.18mm 0;break-inside:avoid}
dl.split{display:block;columns:2;column-gap:6mm}
.in-vain,.limits.calm .ageless{display:none}
.message,.message-head,.pibal{display:none}
.wide th[scope=row]{min-width:0}
tr,li,figure,section[id=cautions]{break-inside:avoid}
figure{margin:.4mm 0 .6mm}
figure svg{max-width:100%;max-height:29mm;background:none;border:.4pt solid var(--line)}
svg text{stroke:var(--ground)}
figcaption{max-width:none;margin-top:.2mm}
.two-up{grid-template-columns:minmax(0,1fr) minmax(0,1fr);gap:0 6mm}
.evening{columns:2;column-gap:6mm}
.evening>h2{column-span:all}
.ticks{columns:2;column-gap:6mm}
section[id=cautions] ul{columns:3;column-gap:5mm}
.sign{grid-template-columns:5.5rem 1fr 1fr 4rem 5.5rem 1fr 1fr 4rem;gap:0 2mm}
.two-up.unequal{grid-template-columns:minmax(0,5fr) minmax(0,3fr)}
.ticks li{padding:.5mm 0}
.box{display:inline-block;width:2.6mm;height:2.6mm;border:.6pt solid var(--ink);margin-right:1.5mm;vertical-align:-.3mm}
.blank{border-bottom:.4pt solid var(--frame);min-height:4.6mm}
.says .small,section[id=dates],h3[id=sources],h3[id=sources]+dl,section[id=ground] h3:last-of-type,
section[id=ground] h3:last-of-type+.wide{display:none}
section[id=load] .wide tbody{display:block;columns:2}
section[id=load] .wide tbody tr{display:flex;justify-content:space-between}
.leaf.two{grid-template-rows:auto auto 1fr}
.leaf.two section[id=landing]{grid-row:span 2}
.leaf.two section[id=checklist]{grid-column:1}
section[id=checklist] .ticks{columns:1}
section[id=checklist] .sign{grid-template-columns:4.5rem 1fr 1fr 4rem}
.sign>:nth-child(n+5):nth-child(-n+8){display:none}
footer{margin-top:1.6mm;border-top-width:.8pt;padding-top:.4mm}
}
)css";

}  // namespace

const std::string& style_sheet() {
  static const std::string sheet = variables(false) + "@media (prefers-color-scheme:dark){" + variables(true) + "}\n" +
                                   "@media print{" + variables(false) + "}\n" + std::string(kRules) +
                                   std::string(kPrint);
  return sheet;
}

}  // namespace pappus::paper
