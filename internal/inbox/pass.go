package inbox

import (
	"crypto/hmac"
	"crypto/rand"
	"crypto/sha256"
	"crypto/subtle"
	"encoding/base64"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"golang.org/x/crypto/argon2"
)

// Argon2id with the second recommended choice of RFC 9106, section 4: three
// passes over 64 MiB, four lanes.
const (
	passes = 3
	memory = 64 << 10 // KiB
	lanes  = 4
)

// passLasts is how long a screen stays let in.
const passLasts = 30 * 24 * time.Hour

// Passphrase makes the passphrase of a new inbox and gives it, the only time it
// is known; where there is one already it gives "".
func (b *Box) Passphrase() (string, error) {
	at := filepath.Join(b.dir, "passphrase")
	if _, err := os.Lstat(at); err == nil {
		return "", nil
	} else if !errors.Is(err, fs.ErrNotExist) {
		return "", err
	}
	words, salt := make([]byte, 18), make([]byte, 16)
	key := make([]byte, 32)
	for _, r := range [][]byte{words, salt, key} {
		if _, err := rand.Read(r); err != nil {
			return "", err
		}
	}
	// syllables that are read out and typed without a slip: 9 of them, 80 kinds,
	// some 56 bits
	const begin, end = "bdfghklmnprstvwz", "aeiou"
	var says strings.Builder
	for i := range 9 {
		if i > 0 && i%3 == 0 {
			says.WriteByte('-')
		}
		says.WriteByte(begin[words[2*i]%16])
		says.WriteByte(end[words[2*i+1]%5])
	}
	line := hashOf(says.String(), salt, passes, memory, lanes)
	if err := write(filepath.Join(b.dir, "key"), []byte(hex.EncodeToString(key)), true); err != nil {
		return "", err
	}
	return says.String(), write(at, []byte(line), false)
}

// hashOf is the line that is kept of a passphrase.
func hashOf(says string, salt []byte, t, m uint32, p uint8) string {
	sum := argon2.IDKey([]byte(says), salt, t, m, p, 32)
	return fmt.Sprintf("argon2id %d %d %d %s %s\n", t, m, p, hex.EncodeToString(salt), hex.EncodeToString(sum))
}

// Admit gives a pass for the right passphrase. However it is typed, small or
// capital, with blanks or hyphens, it is the same.
func (b *Box) Admit(typed string, now time.Time) (string, bool) {
	text, err := os.ReadFile(filepath.Join(b.dir, "passphrase"))
	if err != nil || len(typed) > 200 {
		return "", false
	}
	var t, m uint32
	var p uint8
	var saltText, sumText string
	if _, err := fmt.Sscanf(string(text), "argon2id %d %d %d %s %s", &t, &m, &p, &saltText, &sumText); err != nil || t < 1 || p < 1 || m > 1<<20 {
		return "", false
	}
	salt, errA := hex.DecodeString(saltText)
	sum, errB := hex.DecodeString(sumText)
	if errA != nil || errB != nil || len(sum) < 16 {
		return "", false
	}
	letters := strings.Join(strings.FieldsFunc(strings.ToLower(typed), func(r rune) bool { return r < 'a' || r > 'z' }), "")
	var said strings.Builder // with its hyphens, as it was made
	for i, r := range letters {
		if i > 0 && i%6 == 0 {
			said.WriteByte('-')
		}
		said.WriteRune(r)
	}
	if subtle.ConstantTimeCompare(argon2.IDKey([]byte(said.String()), salt, t, m, p, uint32(len(sum))), sum) != 1 {
		return "", false
	}
	until := strconv.FormatInt(now.Add(passLasts).Unix(), 10)
	return until + "." + b.sign(until), true
}

// Knows tells whether a pass is one of ours and still holds.
func (b *Box) Knows(pass string, now time.Time) bool {
	until, _, _ := strings.Cut(pass, ".")
	n, err := strconv.ParseInt(until, 10, 64)
	return b.Gave(pass) && err == nil && now.Unix() < n
}

// Gave tells whether a pass is one of ours, also where it holds no longer.
func (b *Box) Gave(pass string) bool {
	until, sign, ok := strings.Cut(pass, ".")
	want := b.sign(until)
	return ok && want != "" && hmac.Equal([]byte(sign), []byte(want))
}

func (b *Box) sign(until string) string {
	text, err := os.ReadFile(filepath.Join(b.dir, "key"))
	if err != nil || len(text) < 32 {
		return ""
	}
	h := hmac.New(sha256.New, text)
	h.Write([]byte(until))
	return base64.RawURLEncoding.EncodeToString(h.Sum(nil))
}
