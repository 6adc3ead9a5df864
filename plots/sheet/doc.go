// Package sheet writes what a smith reads of a run as pages of HTML: the report,
// one self-contained page with every table and picture, and the sheet, one
// printed page to hang by the forge. It works nothing out: all numbers come from
// the Result, and a part that is nil there is left out here.
//
// The pages need no network and no script. They are well-formed XML besides
// being HTML, and the same Result gives the same bytes.
package sheet
