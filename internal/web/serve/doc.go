// Package serve shows a page on this machine and answers its calls: one listener on the
// loopback address, one page, one function that answers.
//
// A page of a stranger in the same browser can reach the address too. What keeps it out
// are guards before the handlers, each with a test: the Host must be the server's own to
// the letter (a name that a stranger points at 127.0.0.1 has another), the Origin too, and
// each call carries a token that stands nowhere but in the address that was printed.
package serve
