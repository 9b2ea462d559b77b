// Package engine is what geocoris does, one function for each command: a request of
// settings and named bytes comes in, an outcome of facts and named files goes out.
//
// It knows no flags, no paths that it would open, no streams, no clock and no
// terminal; progress and cancelling come by callback and context. Every face (the
// command line, a page) calls it and nothing below it, so what they do is the same,
// byte by byte.
//
// Settings are called as the flags and the keys of a settings file are.
//
// A build with the tag small, such as the page's, has what a phone asks for: no pictures
// and documents, no comparing, hand-off or season. What draws is larger than the rest.
package engine
