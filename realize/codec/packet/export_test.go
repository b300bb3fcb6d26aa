package packet

// Pack lets tests write what no encoder writes.
var Pack = pack
