//go:build small

package vocabulary

// Finding is the English: a phone shows no findings on rows of files.
func (l Language) Finding(english string) string { return english }

// Note is the English: a phone's notes are few.
func (l Language) Note(english string) string { return english }
