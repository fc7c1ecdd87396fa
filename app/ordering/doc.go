// Package ordering is the screen on which one sees what is to be bought: what is needed
// less what is here and owed, by supplier, with what each line unblocks; how it is bought;
// what was ordered and has not come; and the list as a file.
package ordering
