// Package shares has many things done by as many processors as there are. In the small build,
// for a page with one thread, all is done in turn.
package shares
