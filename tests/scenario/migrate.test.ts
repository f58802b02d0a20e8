/** Versions: the mechanism, with steps that exist only here. */
import { describe, expect, test } from 'vitest'
import { FILE_VERSION, migrate, type Step } from '../../src/scenario/migrate'

const steps = new Map<number, Step>([
  [1, ({ name, ...rest }) => ({ ...rest, title: name })],
  [2, (file) => ({ ...file, seen: 'by the second step' })],
])

describe('versions', () => {
  test('a file of the present version is left as it is', () => {
    const document = { spanwright: FILE_VERSION, title: 'a' }
    const result = migrate(document)
    expect(result.ok && result.document).toBe(document)
  })

  test('an older one goes through every step, and the one given is not changed', () => {
    const old = { spanwright: 1, name: 'a' }
    expect(migrate(old, 3, steps)).toEqual({
      ok: true,
      document: { spanwright: 3, title: 'a', seen: 'by the second step' },
    })
    expect(old).toEqual({ spanwright: 1, name: 'a' })
    expect(migrate({ spanwright: 2, title: 'b' }, 3, steps)).toEqual({
      ok: true,
      document: { spanwright: 3, title: 'b', seen: 'by the second step' },
    })
  })

  test.each([
    [
      4,
      'spanwright: found 4, expected at most version 3. The file was written by a newer version of this program: read it with that one.',
    ],
    [0, 'spanwright: found 0, expected the version of the file, 3.'],
    [-1, 'spanwright: found -1, expected the version of the file, 3.'],
    [1.5, 'spanwright: found 1.5, expected the version of the file, 3.'],
    ['3', 'spanwright: found "3", expected the version of the file, 3.'],
    [null, 'spanwright: found null, expected the version of the file, 3.'],
  ])('version %j is refused', (version, sentence) => {
    const result = migrate({ spanwright: version }, 3, steps)
    expect(result.ok ? '' : result.problem.say).toBe(sentence)
  })
})
