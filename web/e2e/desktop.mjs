// A desktop without a screen or a sound card: a virtual display, and a sound
// server whose only output is a sink that can be recorded.
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtemp, mkdir, rm, access } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

const wall = () => performance.timeOrigin + performance.now();
const pause = (ms) => new Promise((resolve) => setTimeout(resolve, ms));

// start returns the desktop with a sink of so many frames a second and a screen
// of so many pixels: env is what programs on it need.
export async function start(rate = 48000, { width = 1280, height = 1024 } = {}) {
  const dir = await mkdtemp(join(tmpdir(), 'agremens-desktop-'));
  const socket = join(dir, 'pulse.socket');
  await mkdir(join(dir, 'run'), { mode: 0o700 });
  const env = { ...process.env, HOME: dir, XDG_RUNTIME_DIR: join(dir, 'run'), PULSE_SERVER: `unix:${socket}`, PULSE_COOKIE: join(dir, 'cookie') };
  const pulse = spawn('pulseaudio', ['-n', '--daemonize=no', '--exit-idle-time=-1', '--use-pid-file=no', '--disable-shm=yes',
    '-L', `module-native-protocol-unix auth-anonymous=1 socket=${socket}`,
    '-L', `module-null-sink sink_name=ear rate=${rate} channels=2`], { env, stdio: 'ignore' });
  const screen = spawn('Xvfb', ['-displayfd', '1', '-screen', '0', `${width}x${height}x24`, '-nolisten', 'tcp'], { stdio: ['ignore', 'pipe', 'ignore'] });
  // Nothing is left behind when the tests are broken off.
  process.on('exit', () => { pulse.kill('SIGKILL'); screen.kill('SIGKILL'); });
  for (const signal of ['SIGTERM', 'SIGINT']) process.once(signal, () => process.exit(1));
  const [number] = await once(screen.stdout, 'data');
  env.DISPLAY = `:${String(number).trim()}`;
  for (let i = 0; i < 100 && !await access(socket).then(() => true, () => false); i++) await pause(50);
  return {
    env, dir, rate,
    async stop() {
      pulse.kill();
      screen.kill();
      await pause(300);
      await rm(dir, { recursive: true, force: true, maxRetries: 5 });
    },
  };
}

const QUIET = 240;  // frames of silence before a sound counts as new
const FLOOR = 60;   // of 32767: below this is silence

// record listens to the sink. onsets holds [frame, wall ms] of every sound
// that begins after silence. The wall time of a frame is by the earliest
// arrivals around it: data can come late, never early.
export function record({ env, rate }) {
  const parec = spawn('parec', ['--device=ear.monitor', '--format=s16le', `--rate=${rate}`, '--channels=1', '--latency-msec=10', '--raw'],
    { env, stdio: ['ignore', 'pipe', 'ignore'] });
  let frames = 0, quiet = QUIET, odd = null;
  const arrivals = []; // [wall, wall - frames in ms]
  const begun = [];    // frames
  parec.stdout.on('data', (data) => {
    const at = wall();
    if (odd) data = Buffer.concat([odd, data]);
    odd = data.length % 2 ? data.subarray(-1) : null;
    const n = data.length >> 1;
    for (let i = 0; i < n; i++) {
      if (Math.abs(data.readInt16LE(2 * i)) > FLOOR) {
        if (quiet >= QUIET) begun.push(frames + i);
        quiet = 0;
      } else quiet++;
    }
    frames += n;
    arrivals.push([at, at - frames / rate * 1000]);
  });
  const timeOf = (frame) => {
    let best = Infinity;
    const ms = frame / rate * 1000;
    for (const [, offset] of arrivals.filter(([at, offset]) => Math.abs(at - offset - ms) < 2000)) best = Math.min(best, offset);
    return best + ms;
  };
  return { onsets: () => begun.map(timeOf), stop: () => parec.kill() };
}
