package store

// unfinishedTable exists from the first step of a restore to its last.
const unfinishedTable = "restore_unfinished"
