// Package web makes the page of a phone: a folder for any host, or one file that holds
// all of it. The engine in it is that of every other face, built for WebAssembly.
//
// The page asks for nothing from elsewhere, and its policy holds the browser to that.
package web

//go:generate go run ./build
