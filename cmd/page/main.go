//go:build js && wasm

// Command page is the engine for a page: built for WebAssembly, it gives JavaScript one
// function, geocoris.call(json, files), another to be made ready for it, and waits.
package main

import (
	"context"
	"encoding/json"
	"fmt"
	"runtime/debug"
	"syscall/js"

	"github.com/geocoris/geocoris/internal/web/call"
)

// heapGrowth, in percent, is by how much the heap grows before the collector runs, which a map
// then seldom waits for: it allocates some 12 MB. At 500 a walk was no faster, and its engine held
// 60 MB where it now holds 52. It is a phone's engine alone, on one thread.
const heapGrowth = 400

func main() {
	debug.SetGCPercent(heapGrowth)
	global := js.Global()
	global.Set("geocoris", map[string]any{"version": call.Version, "call": js.FuncOf(answer), "warm": js.FuncOf(warm)})
	if ready := global.Get("geocorisReady"); ready.Type() == js.TypeFunction {
		ready.Invoke()
	}
	select {}
}

// answer takes the call as JSON and the bytes of its files, and gives the reply so too.
func answer(_ js.Value, args []js.Value) any {
	reply := answered(args)
	text, err := json.Marshal(reply)
	if err != nil {
		text, _ = json.Marshal(call.Failed(err))
		reply.Files = nil
	}
	files := js.Global().Get("Array").New()
	for _, f := range reply.Files {
		bytes := js.Global().Get("Uint8Array").New(len(f.Content))
		js.CopyBytesToJS(bytes, f.Content)
		files.Call("push", bytes)
	}
	return map[string]any{"json": string(text), "files": files}
}

// warm runs the next of what a walk will ask for, and says whether there is more.
func warm(js.Value, []js.Value) any {
	all := call.WarmUps()
	if warmed < len(all) {
		call.Answer(context.Background(), all[warmed])
		warmed++
	}
	return warmed < len(all)
}

var warmed int

// memory makes a map sooner that differs from the one before in its threshold.
var memory = call.NewMemory()

func answered(args []js.Value) (reply call.Reply) {
	defer func() {
		if fault := recover(); fault != nil { // of a call that is no such
			reply = call.Failed(fmt.Errorf("the call is no JSON and list of bytes: %v", fault))
		}
	}()
	c := call.Call{Memory: memory}
	if err := json.Unmarshal([]byte(args[0].String()), &c); err != nil {
		return call.Failed(fmt.Errorf("the call: %w", err))
	}
	if n := args[1].Length(); n != len(c.Files) {
		return call.Failed(fmt.Errorf("the call names %d files and %d came along", len(c.Files), n))
	}
	for i := range c.Files {
		bytes := args[1].Index(i)
		c.Files[i].Content = make([]byte, bytes.Length())
		js.CopyBytesToGo(c.Files[i].Content, bytes)
	}
	return call.Answer(context.Background(), c)
}
