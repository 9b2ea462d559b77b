// Package report renders finished results: for the screen, as JSON, and as
// features and documents for map files. It computes nothing but units and
// rounding.
package report
