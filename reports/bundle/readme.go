package bundle

import (
	"fmt"
	"strings"
)

// readme says in plain words what the bundle is and how to check it with common tools.
func readme(m Manifest) string {
	text := fmt.Sprintf(`THE EVIDENCE OF A FIT-OUT
%s (%s)
made at %s by %s

What is in here
  register.json   every piece, fixing and hole, as the register stood
  log.jsonl       everything that was ever logged, one entry a line, oldest first
  photos/         every photo, named by the SHA-256 of its bytes
  issues/         the documents as they were issued, and their prints, byte for byte
  returned/       the workbooks that came back, byte for byte, each with the issue that it came
                  back to, whose it is, and the SHA-256 of its bytes in its name
  manifest.json   the SHA-256 and size of every file here

The log has %d entries. The hash of its last entry, its head, is
  %s
Every issued document has the head of its day printed on its cover. Somebody else who holds
such a document holds an anchor: nobody can change an entry before it without changing that hash.

How to check it with the program that made it
  unpick verify FILE.zip

How to check it without
1. Unpack the file. Work out the SHA-256 of each file (sha256sum, or certutil -hashfile FILE SHA256)
   and compare it with manifest.json.
2. Each photo's name is the SHA-256 of its bytes, and the name of each workbook that came back ends in it.
   The log has an entry with that hash, and one with the hash of each document that was issued.
   The other way round: each photo that an entry adds is here, and each document and workbook whose hash
   an entry has. Only photos that came as names in a fit-out file never were.
3. Each line of log.jsonl is JSON. Its "hash" is the SHA-256, in lower-case hexadecimal, over ten fields
   in this order: the word unpick-log-1, number, previous, who, device_time, server_time, kind, what,
   change, and the word end. Each field is written as its length in bytes in decimal, a colon, its UTF-8
   bytes as they stand, and a comma. "change" is the JSON text exactly as it stands in the line. A field
   that is not there is empty. "previous" is the hash of the line before, 64 zeros for the first.
4. Compare the head with the one printed on a document that somebody else kept.
5. The comment of the zip file ends in the SHA-256 of the whole file, taken with 64 zeros in the place of
   those 64 digits.

What it cannot show
  That what was logged was true: it shows who said what, when by the server's clock, and that it was not
  changed since. Whoever could make a whole new log could make a whole new bundle: the anchors that other
  people hold (point 4) are what stands against that.
  What was imported from a file is held to the hash of the import in the log. Where an older program amended
  imported records without keeping their first form, the check says so and counts what it could not hold.
`, m.Name, m.FitOut, m.MadeAt, m.MadeBy, m.Entries, m.Head)
	return strings.ReplaceAll(text, "\n", "\r\n") // opens as it should in every plain editor
}
