package fastener

import "boltplate/drawing"

type slot struct{ width, depth drawing.Quantity }
