package auth

import (
	"crypto/rand"
	"crypto/sha256"
	"encoding/base64"
)

// secretBytes are 256 bits: no guessing finds one.
const secretBytes = 32

// NewToken is the secret of a link, from the machine's own source of randomness, as it stands in the link's address, and
// the hash that is kept of it. The secret itself is shown once, to who makes the link, and kept nowhere.
func NewToken() (token string, hash []byte) {
	secret := make([]byte, secretBytes)
	rand.Read(secret) // never fails: crypto/rand ends the program instead
	sum := sha256.Sum256(secret)
	return base64.RawURLEncoding.EncodeToString(secret), sum[:]
}

// TokenHash is the hash of a token as it stands in an address; false where it is no token at all.
func TokenHash(token string) (hash []byte, ok bool) {
	secret, err := base64.RawURLEncoding.Strict().DecodeString(token)
	if err != nil || len(secret) != secretBytes {
		return nil, false
	}
	sum := sha256.Sum256(secret)
	return sum[:], true
}

// LinkPath is where a token opens its issue.
func LinkPath(token string) string { return "/l/" + token }
