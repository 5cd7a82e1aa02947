package bundle

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"strings"
)

// The seal is the comment of the zip file: sealWords and the SHA-256, in lower-case hexadecimal, of the whole file with
// 64 zeros in the place of those digits. The comment is the end of the file.
const sealWords = "unpick-evidence-1 sha256="

var (
	digits   = 2 * sha256.Size
	unsealed = sealWords + strings.Repeat("0", digits)
)

// seal puts the seal on a file whose comment is unsealed.
func seal(file []byte) error {
	if !bytes.HasSuffix(file, []byte(unsealed)) {
		return fmt.Errorf("sealing a bundle: its comment is not at its end")
	}
	sum := sha256.Sum256(file)
	hex.Encode(file[len(file)-digits:], sum[:])
	return nil
}

// sealed reports whether a file carries a seal, and whether it is whole.
func sealed(file []byte) (carries, whole bool) {
	at := len(file) - len(unsealed)
	if at < 0 || string(file[at:at+len(sealWords)]) != sealWords {
		return false, false
	}
	h := sha256.New()
	h.Write(file[:len(file)-digits])
	h.Write([]byte(strings.Repeat("0", digits)))
	return true, hex.EncodeToString(h.Sum(nil)) == string(file[len(file)-digits:])
}
