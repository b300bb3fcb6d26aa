// Starts the Chromiums that all end-to-end tests of a run share and prints, in
// one line, the environment that leads to them; they end when this does.
import { start } from './browser.mjs';

const servers = await Promise.all([start({ measured: false }), start({ measured: true })]);
const [quick, measured] = servers.map((server) => server.wsEndpoint());
console.log(`AGREMENS_BROWSER=${quick} AGREMENS_MEASURED_BROWSER=${measured}`);

for (const signal of ['SIGTERM', 'SIGINT']) {
  process.once(signal, async () => {
    await Promise.all(servers.map((server) => server.close()));
    process.exit(0);
  });
}
