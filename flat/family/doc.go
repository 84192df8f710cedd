// Package family fills one part file in with the rows of a table: the same
// intercostal in eleven bays, each with its own length and its own two angles.
//
// # Conventions
//
// A template is a part file in which words in angle brackets stand for what
// differs from member to member, inside the quotation marks:
//
//	name   = "bay-<bay>"
//	length = "<length>"
//
// A word in a remark, behind # outside quotation marks, stands for nothing. Between single
// quotation marks, '<angle>', nothing with an apostrophe can be filled in, such as 97 30'.
//
// The table is CSV: its first row names the words, every further row is a member.
// Cells carry their units as the part file does ("13 1/4 in", "92.5 deg"); a row
// that starts with # is a remark.
//
// # Errors
//
// A fault of the template or of the head of the table is an [*Error] that stops
// everything. A fault of one row is an [*Error] of that row and touches no other.
// No input panics.
package family
