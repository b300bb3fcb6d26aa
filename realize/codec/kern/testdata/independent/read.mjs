// Reads Humdrum files with a general engraving library and prints, for each,
// its notes as [line, field, place in the chord, spelled pitch, onset, end] in
// quarters from the beginning.
import fs from 'node:fs'
import path from 'node:path'
import { createRequire } from 'node:module'
import { pathToFileURL } from 'node:url'

const require = createRequire(path.join(process.env.NODE_PATH, 'x.js'))
const load = name => import(pathToFileURL(require.resolve(name)))
const { default: create } = await load('verovio/wasm-hum')
const { VerovioToolkit } = await load('verovio/esm')
const toolkit = new VerovioToolkit(await create())
// humType has every note say what was read of it; the rest saves time.
toolkit.setOptions({ inputFrom: 'humdrum', breaks: 'none', expandNever: true, humType: true })

const alters = { n: '', s: '#', f: 'b', ss: '##', ff: 'bb', x: '##' }
const time = text => {
  const [over, under] = text.split('_')
  return over / (under ?? 1)
}
const all = {}
for (const file of process.argv.slice(2)) {
  toolkit.loadData(fs.readFileSync(file, 'utf8'))
  const notes = []
  for (const [, id, line, field, place, said] of toolkit.getMEI().matchAll(/<note xml:id="(note-L(\d+)F(\d+)(?:S(\d+))?[^"]*)" type="([^"]*)"/g)) {
    const word = name => new RegExp(`(?:^| )${name}-(\\S+)`).exec(said)?.[1]
    notes.push({
      id, line: +line, field: +field, place: +(place ?? 1),
      pitch: word('pname')?.toUpperCase() + alters[word('acc')] + word('oct'),
      onset: time(word('qon')), end: time(word('qoff'))
    })
  }
  all[path.basename(path.dirname(file)) + '/' + path.basename(file)] = notes
}
process.stdout.write(JSON.stringify(all))
