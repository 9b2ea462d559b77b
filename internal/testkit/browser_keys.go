//go:build !js

package testkit

import (
	"fmt"

	"github.com/chromedp/cdproto/input"
	"github.com/stretchr/testify/require"
)

// keys are those that pages are worked with, with what they type and their codes.
var keys = map[string]struct {
	text string
	code int64
}{"Tab": {"", 9}, "Enter": {"\r", 13}, "Space": {" ", 32}, "ArrowDown": {"", 40}, "ArrowUp": {"", 38}}

// Key presses and lifts a key by its name.
func (b *Browser) Key(name string) {
	b.t.Helper()
	key, known := keys[name]
	require.True(b.t, known, name)
	called := name
	if name == "Space" {
		called = " "
	}
	down := input.DispatchKeyEventParams{Type: input.DispatchKeyEventTypeKeyDown, Key: called, Code: name, Text: key.text, WindowsVirtualKeyCode: key.code, NativeVirtualKeyCode: key.code}
	up := input.DispatchKeyEventParams{Type: input.DispatchKeyEventTypeKeyUp, Key: called, Code: name, WindowsVirtualKeyCode: key.code, NativeVirtualKeyCode: key.code}
	call(b, input.DispatchKeyEvent, down)
	call(b, input.DispatchKeyEvent, up)
}

// Type types a text where the cursor is.
func (b *Browser) Type(text string) {
	b.t.Helper()
	call(b, input.InsertText, input.InsertTextParams{Text: text})
}

// TabTo presses Tab until what a selector finds has the cursor, as who has no mouse does.
func (b *Browser) TabTo(selector string) {
	b.t.Helper()
	for range 200 {
		if b.Evaluate(fmt.Sprintf(`document.activeElement?.matches(%q) ?? false`, selector)) == true {
			return
		}
		b.Key("Tab")
	}
	require.Fail(b.t, "no Tab leads there", selector)
}
