package web

import (
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"fmt"
	"regexp"
	"sync"
)

// charset is where the policy goes behind: a browser looks for it in the first kilobyte.
var charset = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`(?i)<meta charset="utf-8">`) })

// withPolicy puts a policy into a page (Content Security Policy Level 3, W3C).
func withPolicy(page []byte, policy string) ([]byte, error) {
	at := charset().FindIndex(page)
	if at == nil {
		return nil, fmt.Errorf(`%s: want <meta charset="utf-8">`, entry)
	}
	meta := fmt.Sprintf("\n<meta http-equiv=\"Content-Security-Policy\" content=\"%s\">", policy)
	return bytes.Join([][]byte{page[:at[1]], page[at[1]:]}, []byte(meta)), nil
}

// sitePolicy is that of a folder on a host, with digests of the scripts in its page, a blank
// behind each: nothing comes from anywhere else or goes there. The worker is a blob, so that
// the policy holds in it too.
func sitePolicy(scripts string) string {
	return fmt.Sprintf("default-src 'none'; script-src 'self' %s'wasm-unsafe-eval'; worker-src 'self' blob:; style-src 'self'; img-src 'self' data: blob:; "+
		"connect-src 'self'; manifest-src 'self'; base-uri 'none'; form-action 'none'", scripts)
}

// pagePolicy is that of one file with scripts and styles of such digests.
func pagePolicy(scripts, styles string) string {
	return fmt.Sprintf("default-src 'none'; script-src %s data: 'wasm-unsafe-eval'; worker-src blob:; style-src %s; img-src data: blob:; "+
		"connect-src 'none'; base-uri 'none'; form-action 'none'", scripts, styles)
}

func digest(text string) string {
	sum := sha256.Sum256([]byte(text))
	return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
}
