/** `node tests/tools/schema.mjs`: writes the JSON Schema of the scenario file anew. To be run when a field has changed. */
import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { createServer } from 'vite'
import { root } from './process.mjs'

const server = await createServer({
  root,
  configFile: false,
  logLevel: 'error',
  server: { middlewareMode: true, ws: false },
})
try {
  const { jsonSchemaText, schemaFile } = await server.ssrLoadModule('/tests/tools/json-schema.ts')
  writeFileSync(join(root, schemaFile), await jsonSchemaText())
  console.log(`Written: ${schemaFile}`)
} finally {
  await server.close()
}
