// Embed writes the drawing of one bolt to standard output.
package main

import (
	"log"
	"os"

	"boltplate/dxfout"
	"boltplate/fastener"
	"boltplate/thread"
)

func main() {
	bolt := fastener.HexBolt{Thread: thread.MustParse("M16"), Length: 80}
	d, err := fastener.Draw(bolt, fastener.DrawOptions{})
	if err != nil {
		log.Fatal(err)
	}
	if err := dxfout.Encode(os.Stdout, d); err != nil {
		log.Fatal(err)
	}
}
