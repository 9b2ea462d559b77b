// Package disk opens for the engine what lies on a disk: files, with what lies beside
// them, and seasons. A face that has a disk calls it; the engine never does, so a page
// without one runs the same engine.
package disk
