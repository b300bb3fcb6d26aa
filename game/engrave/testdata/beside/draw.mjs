// Draws bars of scores with a general engraving library: for each line of the
// list [score, first bar, last bar, SVG file], bars counted from 1.
import fs from 'node:fs'
import path from 'node:path'
import { createRequire } from 'node:module'
import { pathToFileURL } from 'node:url'

const require = createRequire(path.join(process.env.NODE_PATH, 'x.js'))
const load = name => import(pathToFileURL(require.resolve(name)))
const { default: create } = await load('verovio/wasm')
const { VerovioToolkit } = await load('verovio/esm')
const toolkit = new VerovioToolkit(await create())
// A hundred tenths of a millimetre are ten of its units; a unit is half a space.
toolkit.setOptions({ pageWidth: 2200, pageHeight: 6000, adjustPageHeight: true, unit: 9, scale: 40,
  header: 'none', footer: 'none', breaks: 'auto', expandNever: true })
for (const [score, first, last, file] of JSON.parse(fs.readFileSync(process.argv[2], 'utf8'))) {
  toolkit.loadData(fs.readFileSync(score, 'utf8'))
  toolkit.select({ measureRange: `${first}-${last}` })
  toolkit.redoLayout()
  fs.writeFileSync(file, toolkit.renderToSVG(1))
}
