package hear

// The ear's judgement is a small network with one hidden layer, trained by
// cmd/ear on mixtures of single recorded notes. Its weights stand in
// weights.go as bytes, each row with its scale.

const hiddenUnits = 40

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
	// Four units at a time: each view is fetched once for all of them.
	for j := 0; j < hiddenUnits; j += 4 {
		r0 := (*[features]float32)(net.first[j*features:])
		r1 := (*[features]float32)(net.first[(j+1)*features:])
		r2 := (*[features]float32)(net.first[(j+2)*features:])
		r3 := (*[features]float32)(net.first[(j+3)*features:])
		a0, a1, a2, a3 := net.bias[j], net.bias[j+1], net.bias[j+2], net.bias[j+3]
		for i, v := range in {
			a0 += r0[i] * v
			a1 += r1[i] * v
			a2 += r2[i] * v
			a3 += r3[i] * v
		}
		hidden[j], hidden[j+1], hidden[j+2], hidden[j+3] = leaky(a0), leaky(a1), leaky(a2), leaky(a3)
	}
	odds, frames = net.outBias[0], net.outBias[1]
	for j, h := range hidden {
		odds += net.out[0][j] * h
		frames += net.out[1][j] * h
	}
	return odds, frames
}

// leaky lets a tenth of what is negative through.
func leaky(x float32) float32 {
	if x < 0 {
		return 0.1 * x
	}
	return x
}
