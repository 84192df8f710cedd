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
// The table is CSV in UTF-8 as a spreadsheet saves it, its cells parted by commas,
// semicolons or tabs, whichever stand in its first row: this names the words, and every
// further row is a member. Cells carry their units as the part file does ("13 1/4 in",
// "92.5 deg"). A blank row is passed over, and one that starts with # is a remark, unless
// with an error of the spreadsheet such as #REF!. A column without a name must be blank.
//
// # Errors
//
// A fault of the template or of the head of the table is an [*Error] that stops
// everything. A fault of one row is an [*Error] of that row and touches no other.
// No input panics.
package family
