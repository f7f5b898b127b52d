import { DARK_PICTURES, PAGE_COLOURS } from '../charts/palette.js';

/** How a page looks on a phone, a desk and A4 paper; by the reader's own fonts. */
export const PAGE_STYLE = `${PAGE_COLOURS}
*{box-sizing:border-box}
html{color-scheme:light dark;-webkit-text-size-adjust:100%}
body{margin:0 auto;padding:16px;max-width:800px;background:var(--ground);color:var(--ink);font:16px/1.5 system-ui,sans-serif;overflow-wrap:anywhere}
h1{font-size:1.5rem;line-height:1.25;margin:.2em 0 .5em}
h2{font-size:1.2rem;margin:1em 0 .5em;padding-bottom:.2em;border-bottom:2px solid var(--rule)}
h3{font-size:1rem;margin:1.4em 0 .3em}
p,ul,dl{margin:.5em 0}
a{color:var(--battery)}
.largest{font-size:1.05rem;line-height:1.25}
.largest strong{display:block;font-size:2.4rem;line-height:1.1}
.answer{font-size:1.15rem;font-weight:600;padding:.6em .8em;border-left:5px solid var(--battery);background:color-mix(in srgb,var(--rule) 45%,transparent)}
.answer.low{border-color:var(--sun)}
.answer.bad{border-color:var(--trouble)}
.sign{font-weight:700}
.about,.foot,footer,figcaption{color:var(--soft);font-size:.9rem}
figcaption strong{color:var(--ink)}
.helps{margin:.8em 0;padding:.1em .8em;border-left:5px solid var(--battery)}
.helps p{font-weight:600}
.helps ul{margin:.3em 0}
section{margin-top:1.4em}
summary{cursor:pointer;padding:.5em 0;border-bottom:2px solid var(--rule)}
summary h2{display:inline;margin:0;padding:0;border:0}
section:has(>details)+section:has(>details){margin-top:0}
ul{padding-left:1.2em}
dl div{display:grid;grid-template-columns:6.5em 1fr;gap:.6em;padding:.25em 0}
dt{font-weight:600}
dd{margin:0}
.findings{list-style:none;padding:0}
.findings li{padding:.4em .7em;margin:.4em 0;border-left:5px solid var(--rule)}
.findings .caution{border-color:var(--sun)}
.findings .danger{border-color:var(--trouble);border-left-width:9px}
code{font-size:.9em}
figure{margin:1em 0}
figure svg{display:block;width:100%;height:auto}
figure .foot{margin:.2em 0}
.narrow,.of{display:none}
.scroll{overflow-x:auto;margin:.8em 0}
table{border-collapse:collapse;min-width:min(100%,32em);font-size:.88rem;font-variant-numeric:tabular-nums;overflow-wrap:normal}
caption{text-align:left;color:var(--soft);padding-bottom:.3em}
caption span{display:inline-block;max-width:calc(100vw - 32px)}
th,td{padding:.22em .7em .22em 0;text-align:left;vertical-align:top;border-bottom:1px solid var(--rule)}
tbody th{font-weight:400}
td,thead th{white-space:nowrap}
.words{white-space:normal;min-width:11em}
.number{text-align:right}
@media screen and (max-width:600px){
.wide{display:none}.narrow{display:block}
table{font-size:.82rem}th,td{padding-right:.5em}
h1{font-size:1.3rem}.answer{font-size:1.05rem}
dl div{grid-template-columns:1fr;gap:0}
.broad table,.broad tbody,.broad caption{display:block}
.broad thead{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%)}
.broad tr{display:flex;flex-wrap:wrap;gap:0 .9em;padding:.35em 0;border-bottom:1px solid var(--rule)}
.broad th,.broad td{border:0;padding:0;text-align:left;white-space:normal}
.broad tbody th{flex-basis:100%;font-weight:600}
.broad .words{min-width:0;flex-basis:100%}
.broad td:empty{display:none}
.of{display:inline;color:var(--soft)}
}
@media print{
@page{size:A4;margin:9mm 12mm}
body{max-width:none;padding:0;font-size:8pt;line-height:1.24}
h1{font-size:15pt}h2{font-size:11pt;margin:.9em 0 .3em}h3{font-size:8.6pt;margin:.6em 0 .2em}
p,ul,dl{margin:.25em 0}
.wide+.narrow{display:none}
details::details-content{display:block;content-visibility:visible;height:auto}
summary{padding:0;border:0;list-style:none}
summary h2{display:block;border-bottom:2px solid var(--rule)}
.helps{padding:0 .7em;font-size:9pt}
.answer{font-size:10pt;padding:.4em .7em}
h2,h3,caption,figcaption{break-after:avoid}
figure,tr,.findings li,dl div{break-inside:avoid}
figure{margin:.4em 0}
figure svg{width:auto;max-width:100%;height:auto;max-height:34mm;margin:0 auto}
.foot,footer{font-size:7pt}
.about,figcaption{font-size:7.6pt}
.tables{display:flex;flex-wrap:wrap;gap:0 8mm}
section{margin-top:.6em}
section[aria-labelledby=rig] details::details-content,section[aria-labelledby=assumptions] details::details-content{columns:2;column-gap:8mm}
.short{break-inside:avoid}
thead{display:table-header-group}
.scroll{overflow:visible;margin:.4em 0}
.long{columns:2;column-gap:8mm}
section[aria-labelledby=assumptions] .long{columns:auto}
.words,td{white-space:normal;min-width:0}
caption span{max-width:none}
table{font-size:7.2pt;line-height:1.2;min-width:0}
th,td{padding:.08em .6em .08em 0}
dl div{padding:.05em 0}
.findings li{padding:.1em .6em;margin:.2em 0}
}
${DARK_PICTURES}`;
