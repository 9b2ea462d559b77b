//go:build !js

package testkit

import (
	"context"

	"github.com/chromedp/cdproto/browser"
	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/heapprofiler"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// Tap presses and lifts the mouse at a place in the window, in CSS pixels.
func (b *Browser) Tap(x, y float64) {
	b.t.Helper()
	for _, kind := range []input.DispatchMouseEventType{input.DispatchMouseEventTypeMousePressed, input.DispatchMouseEventTypeMouseReleased} {
		call(b, input.DispatchMouseEvent, input.DispatchMouseEventParams{Type: kind, X: x, Y: y, Button: input.MouseButtonLeft, Buttons: 1, ClickCount: 1})
	}
}

// Fingers makes the device one that is touched, by so many fingers at the most.
func (b *Browser) Fingers(most int) {
	b.t.Helper()
	call(b, emulation.SetTouchEmulationEnabled, emulation.SetTouchEmulationEnabledParams{Enabled: true, MaxTouchPoints: int64(most)})
}

// Touch sends an event of fingers, such as "touchStart", with the places of those
// that are down, in CSS pixels.
func (b *Browser) Touch(kind string, fingers ...[2]float64) {
	b.t.Helper()
	points := []*input.TouchPoint{} // a list, also of none
	for i, at := range fingers {
		id := float64(i)
		points = append(points, &input.TouchPoint{X: at[0], Y: at[1], ID: &id})
	}
	call(b, input.DispatchTouchEvent, input.DispatchTouchEventParams{Type: input.DispatchTouchEventType(kind), TouchPoints: points})
}

// Stand puts the device somewhere, in degrees, to within so many metres.
func (b *Browser) Stand(longitude, latitude, accuracy float64) {
	b.t.Helper()
	call(b, emulation.SetGeolocationOverride, emulation.SetGeolocationOverrideParams{Longitude: &longitude, Latitude: &latitude, Accuracy: &accuracy})
}

// NoFix takes the device's position away.
func (b *Browser) NoFix() {
	b.t.Helper()
	call(b, emulation.SetGeolocationOverride, emulation.SetGeolocationOverrideParams{})
}

// LetLocate answers the question whether pages may know the position: "granted",
// "denied" or "prompt".
func (b *Browser) LetLocate(setting string) {
	b.t.Helper()
	b.ofBrowser(func(ctx context.Context) error {
		_, err := chromedp.CallBrowser(ctx, browser.SetPermission, browser.SetPermissionParams{
			Permission: &browser.PermissionDescriptor{Name: "geolocation"}, Setting: browser.PermissionSetting(setting), BrowserContextID: b.profile()})
		return err
	})
}

// DownloadTo keeps what pages give to be saved in a folder.
func (b *Browser) DownloadTo(folder string) {
	b.t.Helper()
	b.ofBrowser(func(ctx context.Context) error {
		_, err := chromedp.CallBrowser(ctx, browser.SetDownloadBehavior, browser.SetDownloadBehaviorParams{
			Behavior: browser.SetDownloadBehaviorBehaviorAllow, DownloadPath: folder, BrowserContextID: b.profile()})
		return err
	})
}

// profile is that of the browser's tabs among those of its process; empty for the first.
func (b *Browser) profile() cdp.BrowserContextID {
	return chromedp.FromContext(b.whole).BrowserContextID
}

// NoScripts lets no script of pages run from now on.
func (b *Browser) NoScripts() {
	b.t.Helper()
	call(b, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true})
}

func (b *Browser) ofBrowser(command func(context.Context) error) {
	b.t.Helper()
	ctx, cancel := context.WithTimeout(b.whole, patience)
	defer cancel()
	require.NoError(b.t, command(ctx))
}

// Offline cuts the network off.
func (b *Browser) Offline() {
	b.t.Helper()
	call(b, network.EmulateNetworkConditionsByRule, network.EmulateNetworkConditionsByRuleParams{MatchedNetworkConditions: []*network.Conditions{{Offline: true, DownloadThroughput: -1, UploadThroughput: -1}}})
}

// Heap is how many bytes the page's scripts hold, without what nobody refers to.
func (b *Browser) Heap() float64 {
	b.t.Helper()
	call(b, heapprofiler.CollectGarbage, cdp.Empty{})
	return call(b, runtime.GetHeapUsage, cdp.Empty{}).UsedSize
}
