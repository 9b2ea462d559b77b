// Package web makes the page of a phone: a folder for any host, or one file that holds
// all of it. The engine in it is that of every other face, built for WebAssembly.
package web
