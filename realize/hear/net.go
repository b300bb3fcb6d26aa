package hear

// The ear's judgement is a small network with one hidden layer, trained by
// cmd/ear on mixtures of single recorded notes. Its weights stand in
// weights.go as bytes, each row with its scale.

const hiddenUnits = 32

// outputs: the logarithm of the odds that the string is struck within 8 ms of
// the frame, and the frames from it to the instant.
const outputs = 2

type network struct {
	first   [hiddenUnits * features]float32
	bias    [hiddenUnits]float32
	out     [outputs][hiddenUnits]float32
	outBias [outputs]float32
}

// trained unpacks the weights: rows of signed bytes, and the factor of each.
func trained() *network {
	n := &network{outBias: outBiases, bias: biases, out: outWeights}
	if len(firstWeights) != len(n.first) {
		return n // weights of other features: cmd/ear makes them anew
	}
	for i := range n.first {
		n.first[i] = float32(int8(firstWeights[i])) * scales[i/features]
	}
	return n
}

// judge returns both for what stands in in. hidden is room to work in.
func (net *network) judge(in *[features]float32, hidden *[hiddenUnits]float32) (odds, frames float32) {
	for j := range hidden {
		row := (*[features]float32)(net.first[j*features:])
		a0, a1, a2, a3 := net.bias[j], float32(0), float32(0), float32(0)
		i := 0
		for ; i+4 <= features; i += 4 {
			a0 += row[i] * in[i]
			a1 += row[i+1] * in[i+1]
			a2 += row[i+2] * in[i+2]
			a3 += row[i+3] * in[i+3]
		}
		for ; i < features; i++ {
			a0 += row[i] * in[i]
		}
		h := a0 + a1 + a2 + a3
		if h < 0 {
			h *= 0.1
		}
		hidden[j] = h
	}
	odds, frames = net.outBias[0], net.outBias[1]
	for j, h := range hidden {
		odds += net.out[0][j] * h
		frames += net.out[1][j] * h
	}
	return odds, frames
}
