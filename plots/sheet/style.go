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
const drawingStyle = `svg text { font-size: 2.4px; fill: ` + inkText + `; }
svg path { fill: none; stroke: ` + inkText + `; stroke-width: 0.2; }
svg .jacket { fill: ` + inkPale + `; stroke: none; }
svg .core { fill: ` + inkSteel + `; stroke: none; }
svg .joint { stroke: ` + inkLine + `; stroke-width: 0.12; }
svg .rim { stroke-width: 0.3; }
svg .blade { stroke-width: 0.35; fill: none; }
svg .shoulder { stroke: ` + inkLine + `; stroke-width: 0.15; stroke-dasharray: 0.6 0.8; }
svg .line-a { stroke-width: 0.4; }
svg .line-b { stroke-width: 0.4; stroke-dasharray: 2 1.2; }
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
.soak ul, .foot ul { margin: 0; padding-left: 1.1em; }
.small { font-size: 0.8rem; }
table { width: 100%; border-collapse: collapse; table-layout: fixed; margin-top: 1.5mm; }
thead { display: table-header-group; }
thead th { font-size: 0.72rem; text-align: left; vertical-align: bottom; padding: 0 1mm; color: ` + inkText + `; }
tbody { break-inside: avoid; }
tbody th { text-align: left; font-size: 0.88rem; font-weight: normal; padding: 0.5mm 1mm; border-top: 0.5mm solid ` + inkText + `; background: ` + inkHeat + `; }
tbody th b { font-size: 1.15rem; }
td { border: 0.2mm solid ` + inkLine + `; padding: 0 1mm; height: 1.75rem; vertical-align: middle; }
td.stopat { font-weight: bold; font-size: 1.08rem; }
td.note { height: auto; border-top: none; font-size: 0.75rem; font-weight: bold; color: ` + inkBad + `; }
.end { font-size: 0.88rem; margin-top: 1mm; }
.pictures { display: flex; flex-wrap: wrap; align-items: flex-end; margin-top: 2mm; break-inside: avoid; }
figure { margin: 0 5mm 1mm 0; break-inside: avoid; }
figcaption { font-size: 2.6mm; line-height: 1.15; }
svg { display: block; }
.foot { margin-top: 1.5mm; border-top: 0.4mm solid ` + inkText + `; padding-top: 0.8mm; font-size: max(2.5mm, 0.64rem); }
.foot ul { columns: 2; column-gap: 5mm; }
.foot li { break-inside: avoid; }
@media screen { main { margin: 5mm auto; padding: 0 2mm; } .wide { overflow-x: auto; } }
` + drawingStyle
}
