// Package arch holds no code, only tests of the repository as a whole: what may
// import which, which names are public, which modules are linked, and which
// words no file may hold. The table of layers stands in arch_test.go; a new
// package gets its row there before its first line.
package arch
