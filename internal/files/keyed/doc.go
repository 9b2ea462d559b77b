// Package keyed reads files that people write by hand, of names and values in TOML, and
// says what is wrong with one in their words: the line, what the name takes, what to write.
package keyed
