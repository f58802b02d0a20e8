/** Which lines stand out: the span itself, the roller it begins at, or the roller pointed at; dancers and rolls always. */
import type { Channel } from '../../run/record'

/** @param pointed key of the line pointed at, or nothing */
export function strongKeys(channels: readonly Channel[], span: string, pointed: string): ReadonlySet<string> {
  const place = channels.find((channel) => channel.group === 'tension' && channel.name === span)?.place
  const rollers = channels.filter(({ group }) => group === 'speed')
  const roller = (rollers.find(({ key }) => key === pointed) ?? rollers.find((channel) => channel.place === place))?.key
  const few = channels.filter(({ group }) => group !== 'tension' && group !== 'speed').map(({ key }) => key)
  return new Set([`tension/${span}`, ...(roller ? [roller] : []), ...few])
}
