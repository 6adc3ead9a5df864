package sheet

import "fmt"

// Colours and type are those of the pictures (plots/style.go).
const (
	inkText  = "#222222"
	inkSoft  = "#666666"
	inkLine  = "#555555"
	inkFaint = "#e2e2e2"
	inkBad   = "#b04a00" // vermillion, darkened for text
	inkHeat  = "#fbf3ea"
	inkSteel = "#8fa9bf"
	inkPale  = "#efe7db"

	typeface = `"Liberation Sans", Arial, Helvetica, sans-serif`
)

// drawingStyle is for drawings at true size; lines differ in dash as well as in
// ink, for print in black and white.
const drawingStyle = `.pictures text { font-size: 2.4px; fill: ` + inkText + `; }
.pictures path { fill: none; stroke: ` + inkText + `; stroke-width: 0.2; }
.pictures .jacket { fill: ` + inkPale + `; stroke: none; }
.pictures .core { fill: ` + inkSteel + `; stroke: none; }
.pictures .joint { stroke: ` + inkLine + `; stroke-width: 0.12; }
.pictures .rim { stroke-width: 0.3; }
.pictures .blade { stroke-width: 0.35; fill: none; }
.pictures .shoulder { stroke: ` + inkLine + `; stroke-width: 0.15; stroke-dasharray: 0.6 0.8; }
.pictures .line-a { stroke-width: 0.4; }
.pictures .line-b { stroke-width: 0.4; stroke-dasharray: 2 1.2; }
`

// sheetStyle is the style of the sheet. All sizes are in rem, which the layout
// sets, or millimetres.
func (l layout) style() string {
	return fmt.Sprintf(`@page { size: portrait; margin: %smm; }
html { font-size: %smm; }
`, mm(pageMargin), mm(textSize*l.scale)) + `* { box-sizing: border-box; }
body { margin: 0; font-family: ` + typeface + `; line-height: 1.22; color: ` + inkText + `; background: #ffffff;
  overflow-wrap: anywhere; -webkit-print-color-adjust: exact; print-color-adjust: exact; }
main { width: ` + mm(pageWide) + `mm; max-width: 100%; }
h1 { font-size: 1.4rem; margin: 0; }
p { margin: 0; }
.about { font-size: 0.8rem; color: ` + inkSoft + `; }
.stop { border: 0.6mm solid ` + inkBad + `; color: ` + inkBad + `; font-weight: bold; padding: 1mm 2mm; margin-top: 1.5mm; }
.soak { display: flex; border: 0.4mm solid ` + inkText + `; margin-top: 1.5mm; }
.soak > div { flex: 1 1 50%; padding: 1mm 2mm; }
.soak > div + div { border-left: 0.2mm solid ` + inkLine + `; }
.soak h2, .foot h2 { font-size: 0.8rem; margin: 0; }
.soak b { font-size: 1.25rem; }
.soak p { margin: 0; }
ul { margin: 0; padding: 0; }
li { margin-left: 1.1em; }
.small { font-size: 0.8rem; }
table { width: 100%; border-collapse: collapse; table-layout: fixed; margin-top: 1.5mm; }
thead { display: table-header-group; }
thead th { font-size: 0.72rem; text-align: left; vertical-align: bottom; padding: 0 1mm; color: ` + inkText + `; }
tbody { break-inside: avoid; }
tbody th { text-align: left; font-size: 0.88rem; font-weight: normal; padding: 0.2mm 1mm; border-top: 0.5mm solid ` + inkText + `; background: ` + inkHeat + `; }
tbody th b { font-size: 1.05rem; }
td { border: 0.2mm solid ` + inkLine + `; padding: 0 1mm; height: ` + fmt.Sprint(rowHigh) + `rem; vertical-align: middle; }
td.stopat { font-weight: bold; font-size: 1.08rem; }
td.note { height: auto; padding: 0.3mm 1mm; border-top: none; font-size: 0.75rem; font-weight: bold; color: ` + inkBad + `; }
.end { font-size: 0.88rem; margin-top: 1mm; }
.soak ul { font-size: 0.94rem; }
.pictures { display: flex; flex-wrap: wrap; align-items: flex-start; margin-top: 2mm; break-inside: avoid; }
figure { margin: 0 ` + mm(figureGap) + `mm 1.5mm 0; break-inside: avoid; }
figcaption { font-size: ` + mm(captionType) + `mm; }
svg { display: block; }
.foot { margin-top: 1.5mm; border-top: 0.4mm solid ` + inkText + `; padding-top: 0.8mm; font-size: max(2.5mm, 0.64rem); }
.foot ul { columns: 2; column-gap: 5mm; }
.foot li { break-inside: avoid; list-style: none; margin: 0; padding-left: 1.1em; text-indent: -1.1em; }
.foot li::before { content: "\25aa"; display: inline-block; width: 1.1em; text-indent: 0; }
@media screen { main { margin: 5mm auto; padding: 0 2mm; } .wide { overflow-x: auto; } }
` + drawingStyle
}

// reportStyle is the style of the report, for the screen and for paper.
const reportStyle = `@page { margin: 14mm; }
* { box-sizing: border-box; }
body { margin: 0; font-family: ` + typeface + `; font-size: 16px; line-height: 1.4; color: ` + inkText + `; background: #ffffff; overflow-wrap: anywhere; }
main { max-width: 54rem; margin: 0 auto; padding: 1rem; }
h1 { font-size: 1.7rem; margin: 0; line-height: 1.2; }
h2 { font-size: 1.2rem; margin: 1.6rem 0 0.4rem; padding-top: 0.4rem; border-top: 2px solid ` + inkText + `; break-after: avoid; }
h3 { font-size: 1rem; margin: 1rem 0 0.2rem; break-after: avoid; }
.about { margin: 0.2rem 0 0; color: ` + inkSoft + `; }
dl { margin: 0; display: grid; grid-template-columns: max-content 1fr; column-gap: 1rem; row-gap: 0.35rem; }
dt { font-weight: bold; }
dd { margin: 0; font-size: 1.06rem; }
dd.no { font-weight: bold; color: ` + inkBad + `; }
.wide { overflow-x: auto; margin: 0.7rem 0; }
table { border-collapse: collapse; font-size: 0.88rem; line-height: 1.25; }
caption { text-align: left; font-weight: bold; padding: 0.2rem 0; }
thead { display: table-header-group; }
th, td { padding: 0.18rem 0.7rem 0.18rem 0; text-align: left; vertical-align: top; overflow-wrap: normal; }
th { color: ` + inkSoft + `; font-weight: normal; border-bottom: 1px solid ` + inkLine + `; vertical-align: bottom; }
td { border-bottom: 1px solid ` + inkFaint + `; }
tr { break-inside: avoid; }
.short { break-inside: avoid; }
.n { text-align: right; white-space: nowrap; font-variant-numeric: tabular-nums; }
ul { margin: 0.3rem 0; padding-left: 1.2rem; }
p { margin: 0.4rem 0; }
figure { margin: 0.8rem 0; break-inside: avoid; }
section > figure svg, figure img { display: block; width: 100%; height: auto; max-width: 45rem; }
@media (max-width: 36rem) { dl { display: block; } dd { margin-bottom: 0.5rem; } }
@media print { body { font-size: 10.5pt; } main { max-width: none; padding: 0; } .wide { overflow: visible; } table { font-size: 0.8rem; } }
.pictures { overflow-x: auto; break-inside: avoid; }
.pictures figure { margin: 0 0 0.6rem; }
.pictures svg { display: block; flex: none; }
figcaption { font-size: 0.75rem; }
` + drawingStyle
