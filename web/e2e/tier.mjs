// Which tests run: those of every change, those that take too long for every
// change, or, where a file is run by hand, both. AGREMENS_TIER says so.
import * as node from 'node:test';

const tier = process.env.AGREMENS_TIER ?? 'both';

// test declares a test of every change, later one of the slow tier.
export const test = tier === 'slow' ? () => {} : node.test;
export const later = tier === 'quick' ? () => {} : node.test;
