// Package fieldwork renders what is carried to the field and asked there: answers
// of a tally, the pocket card, the sheet and files of a plan, what a calibration
// found, the drill, and the answers of the key. Like internal/output/report it computes
// nothing but rounding and places on a picture.
package fieldwork
