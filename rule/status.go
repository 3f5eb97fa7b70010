package rule

import (
	"fmt"
	"strings"
)

// A Status says how far a figure or a rule can be trusted.
type Status uint8

// The statuses.
const (
	Given           Status = iota // stated by whoever described the part
	Published                     // from a standard or a book that the source names
	CommonPractice                // a rule of thumb of the trade
	FromMemory                    // written from memory and not verified
	Derived                       // follows by calculation from other figures
	PublishedInPart               // one row or figure from a published table and from memory
)

var statusNames = [...]string{
	Given:           "given",
	Published:       "published",
	CommonPractice:  "common practice",
	FromMemory:      "from memory, unverified",
	Derived:         "derived",
	PublishedInPart: "published in part",
}

// String returns the status in words, such as "common practice".
func (s Status) String() string {
	if int(s) < len(statusNames) {
		return statusNames[s]
	}
	return "unknown status"
}

// ParseStatus reads what [Status.String] writes, in upper or lower case.
// "from memory" will do for "from memory, unverified". The error is a
// [*NameError].
func ParseStatus(s string) (Status, error) {
	word := strings.ToLower(strings.Join(strings.Fields(s), " "))
	if word == "from memory" {
		return FromMemory, nil
	}
	for i, name := range statusNames {
		if word == name {
			return Status(i), nil
		}
	}
	return 0, &NameError{What: "status", Name: s, Known: statusNames[:], Near: nearNames(word, statusNames[:])}
}

// Weakest returns the least trusted of several statuses, for a figure that
// rests on all of them: from memory, then published in part, common practice,
// derived, published and given.
func Weakest(first Status, more ...Status) Status {
	for _, s := range more {
		if s.rank() > first.rank() {
			first = s
		}
	}
	return first
}

func (s Status) rank() int {
	switch s {
	case Given:
		return 0
	case Published:
		return 1
	case Derived:
		return 2
	case CommonPractice:
		return 3
	case PublishedInPart:
		return 4
	}
	return 5
}

// MarshalText returns what [Status.String] returns.
func (s Status) MarshalText() ([]byte, error) {
	if int(s) >= len(statusNames) {
		return nil, fmt.Errorf("rule: status %d is none", uint8(s))
	}
	return []byte(s.String()), nil
}

// UnmarshalText reads what [ParseStatus] reads.
func (s *Status) UnmarshalText(b []byte) error {
	v, err := ParseStatus(string(b))
	if err == nil {
		*s = v
	}
	return err
}
