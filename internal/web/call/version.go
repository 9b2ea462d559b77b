package call

// Version is that of the program, for records. What starts a page sets it.
var Version = "devel"
