import { customProperties, DARK, FONT, LIGHT, PRINT } from "./theme";

/** The style sheet of a page. */
export function pageStyleSheet(): string {
  return `:root{color-scheme:light dark;${customProperties(LIGHT)}}
@media screen and (prefers-color-scheme:dark){:root{${customProperties(DARK)}}}
*{box-sizing:border-box}
html{-webkit-text-size-adjust:100%;text-size-adjust:100%}
body{margin:0;background:var(--dn-paper);color:var(--dn-ink);font:1rem/1.55 ${FONT}}
header,nav,main,footer{max-width:74rem;margin:0 auto;padding:0 1.25rem}
header{padding-top:2.5rem}
h1{font-size:1.75rem;line-height:1.25;margin:0 0 .5rem;font-weight:650}
h2{font-size:1.25rem;line-height:1.3;margin:0 0 .75rem;font-weight:650}
h3{font-size:1.0625rem;margin:0 0 .5rem;font-weight:650}
section{margin:2.75rem 0}
p,ul,ol{margin:0 0 1rem;max-width:42rem}
ul,ol{padding-left:1.4rem}
li{margin:.2rem 0}
h1,h2,p,li,td,th,caption,figcaption{overflow-wrap:break-word}
a{color:inherit;text-decoration-thickness:.06em;text-underline-offset:.18em}
:focus-visible{outline:2px solid currentColor;outline-offset:2px}
.skip{position:absolute;left:-100vw;top:.5rem;padding:.5rem .75rem;background:var(--dn-ink);color:var(--dn-paper)}
.skip:focus{left:1rem}
nav ul{list-style:none;margin:1.25rem 0 0;padding:0;max-width:none;display:flex;flex-wrap:wrap;gap:.25rem 1.25rem}
nav li{margin:0}
.scroll{overflow-x:auto;margin:0 0 1.5rem}
table{border-collapse:collapse;font-size:.9375rem;line-height:1.4;font-variant-numeric:tabular-nums}
caption{text-align:left;font-weight:600;padding:0 0 .5rem;caption-side:top}
th,td{padding:.4rem 1.5rem .4rem 0;vertical-align:top;text-align:left;font-weight:400}
th:last-child,td:last-child{padding-right:0}
thead th{font-weight:600;vertical-align:bottom;border-bottom:1px solid var(--dn-quiet)}
tbody tr+tr>*{border-top:1px solid var(--dn-minor)}
tbody tr:last-child>*{border-bottom:1px solid var(--dn-major)}
.right{text-align:right}
.center{text-align:center}
figure{margin:0 -12px 2rem}
figure svg{display:block}
figure .scroll{margin:0}
figcaption{margin:.25rem 12px 0;max-width:42rem;font-size:.9375rem;color:var(--dn-quiet)}
.narrow{display:none}
.drawings .scroll{margin:0 0 1rem}
.drawings svg{min-width:calc(.55*var(--width));max-width:var(--share)}
@media screen and (min-width:64rem){.drawings .both{width:min(var(--whole),100%)}.drawings.beside .both{display:grid;grid-template-columns:var(--columns);gap:0 24px}.drawings.beside svg{max-width:100%}}
.pair{display:grid;grid-template-columns:minmax(0,1fr);gap:0 1.5rem}
.small{font-size:.875rem;color:var(--dn-quiet);max-width:none}
.steps{max-width:none}
.steps>li{margin:0 0 1rem}
.boxes{list-style:none;padding:0;max-width:none;margin:.25rem 0 .5rem}
.caution{margin:.25rem 0;padding:.25rem .6rem;border-left:.3rem solid currentColor;max-width:none}
.findings tr.words td{border-top:0;padding-top:0;color:var(--dn-quiet)}
.group th{font-weight:600;padding-top:.9rem}
.danger{border:2px solid currentColor;border-left-width:.5rem;padding:.5rem .75rem;font-weight:650}
.tiles{list-style:none;padding:0;max-width:none;display:grid;grid-template-columns:repeat(auto-fit,minmax(13rem,1fr));gap:.75rem}
.tiles .side{margin-top:.1rem}
.steps>li>strong{display:block}
.tiles li{border:1px solid var(--dn-major);padding:.6rem .75rem;margin:0;break-inside:avoid}
.tiles strong,.tiles span,.tiles small{display:block}
.tiles .numbers{font-size:1.15rem;font-variant-numeric:tabular-nums}
.tiles small{color:var(--dn-quiet);font-size:.8125rem;line-height:1.4;margin-top:.25rem}
footer{margin-top:3rem;padding-bottom:2.5rem;font-size:.875rem;color:var(--dn-quiet)}
footer p{border-top:1px solid var(--dn-minor);padding-top:.75rem;max-width:none}
@media screen and (min-width:60rem){.tiles{grid-template-columns:repeat(var(--tiles),1fr)}.tiles .several{grid-column:span 2}.tiles .sides{display:grid;grid-auto-flow:column;grid-auto-columns:1fr;gap:0 .75rem}.columns{columns:2;column-gap:1.5rem}.columns p{break-inside:avoid}.pair{grid-template-columns:minmax(0,1fr) minmax(0,1fr)}.pair svg{width:100%;height:auto}}
@media screen and (max-width:40rem){header,nav,main,footer{padding-left:.75rem;padding-right:.75rem}header{padding-top:1.5rem}h1{font-size:1.5rem}.wide{display:none}.narrow{display:block}.one svg{max-width:none}.cards thead{display:none}.cards table,.cards tbody{display:block}.cards tr{display:block;border:1px solid var(--dn-major);padding:.5rem .75rem;margin:0 0 .5rem}.cards tbody tr>*{display:block;border:0;padding:.1rem 0}.cards th{font-weight:600}.cards td:empty{display:none}.cards td.right{text-align:left}.cards td[data-label]::before{content:attr(data-label) ": ";color:var(--dn-quiet)}.cards tr.group{border:0;padding:.5rem 0 0}}
@media print{:root{color-scheme:light;${customProperties(PRINT)}}body{font-size:10.5pt}header{padding-top:0}header,nav,main,footer{max-width:none;padding-left:0;padding-right:0}.skip,nav{display:none}.scroll{overflow:visible}section{margin:.5rem 0}p,ul,ol{max-width:none;margin-bottom:.5rem}.columns p,.small+.small{margin-bottom:.3rem}h1{font-size:15pt}h2{font-size:12.5pt;margin-bottom:.4rem}h2,caption{break-after:avoid}figure,tr{break-inside:avoid}thead{display:table-header-group}.tiles{grid-template-columns:repeat(var(--tiles),1fr);gap:2mm;margin-bottom:1.5mm}.tiles .several{grid-column:span 2}.tiles .sides{display:grid;grid-auto-flow:column;grid-auto-columns:1fr;gap:0 2mm}.tiles li{padding:1.5mm 2mm}.tiles .numbers{font-size:8pt;font-weight:600}.tiles small{font-size:7.5pt;margin:0;line-height:1.25}.tiles strong{font-size:9pt}.own-side{break-before:page}.steps{columns:2;column-gap:6mm;padding-left:1.1rem}.steps>li{margin:0 0 2mm}.steps>li>strong{display:block;break-after:avoid}.caution,.boxes li{break-inside:avoid}.caution{break-after:avoid}.build table{font-size:7.5pt;line-height:1.2}.build th,.build td{padding:.5mm 2mm .5mm 0}.build .scroll{break-inside:avoid}.boxes li{margin:0}.caution{margin:.5mm 0;padding:.3mm 1.5mm}.pair .narrow svg{max-height:64mm}.pair.tall .narrow svg{max-height:82mm}.pair:has(>div>figure) .narrow svg{max-height:105mm}.together{break-inside:avoid}.small{font-size:7.5pt;line-height:1.3}.findings+.small{margin:0 0 1mm}figure{margin:0 0 .5rem}.build{font-size:8.4pt;line-height:1.24}.build p{margin-bottom:1mm}.findings table{font-size:7pt;line-height:1.04;width:100%}.findings thead th:first-child{width:47%}.findings td[data-label]{white-space:nowrap}.findings thead th{overflow-wrap:anywhere}.findings td.right{white-space:nowrap}.findings .group th{padding-top:.7mm}.findings th,.findings td{padding:.05mm 2mm .05mm 0}.group,.with-words{break-after:avoid}.findings tr.words td{padding-top:0}.own-side p,section p,section>ul>li{font-size:8.5pt;line-height:1.35;margin-bottom:.3rem}.own-side p.small{font-size:7pt;line-height:1.25}.pair{display:grid;grid-template-columns:1fr 1fr;gap:0 1rem}.pair figure{margin:0 0 .4rem}.pair .wide{display:none}.pair .narrow{display:block}.pair svg{width:auto;height:auto;max-width:100%}.drawings{margin:0 0 .4rem}.drawings .scroll{margin:0}.drawings figcaption{margin:0 3mm}.drawings svg{min-width:0}.drawings.beside-on-paper .both{display:grid;grid-template-columns:var(--columns);gap:0 24px}.drawings.beside-on-paper svg{max-width:100%}table{font-size:8.5pt;line-height:1.3}th,td{padding:.8mm 3mm .8mm 0}.scroll{margin-bottom:.5rem}figcaption{font-size:7.5pt;line-height:1.3;margin:0 0 0 2.5mm}.pair:has(>ul){grid-template-columns:1.3fr 1fr}.pair li{font-size:7.5pt;line-height:1.3;margin:.3mm 0}.pair .scroll table{font-size:7.5pt;line-height:1.2;width:100%}.pair .scroll :is(th,td){padding:.4mm 2mm .4mm 0}.shopping table{font-size:7.5pt;line-height:1.2;width:100%}.shopping :is(th,td){padding:.4mm 1.5mm .4mm 0}.shopping .right{padding-right:3mm}.tight h3{font-size:8pt;margin:.3rem 0 .1rem}.tight p{font-size:7pt!important;line-height:1.25!important;margin-bottom:.2rem}.tight table{font-size:7pt;line-height:1.1}.tight :is(th,td){padding:.3mm 2.5mm .3mm 0}footer{margin-top:.5rem;padding-bottom:0;font-size:8pt}footer p{padding-top:.2rem}}
@page{size:A4;margin:11mm 14mm 13mm;@bottom-right{content:counter(page) " / " counter(pages);font:9pt ${FONT}}}`;
}
