// Package jobfile reads a job file, TOML text in shop units, into a
// [sim.Job] in SI units, and reports every fault in it at once.
//
// Every quantity in a job file is text with its unit ("12 mm", "1/2 in",
// "2300 F"); a bare number where a quantity belongs is refused, never read
// as if it were SI. Keys must be known and spelt exactly; limits are checked
// here, so what comes out can be worked with. Rows of a list are counted
// from 1 in messages: stack.layer[2] is the second layer, counted from
// side B.
//
// What a job leaves open takes its default, and where that default bears on
// an answer a plain sentence about it goes into [sim.Job.Assumed].
package jobfile
