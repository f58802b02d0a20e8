import { mount } from 'svelte'
import App from './App.svelte'
import './css/tokens.css'
import './css/base.css'

const target = document.getElementById('app')
if (!target) throw new Error('The page has no element with the id "app" to stand in.')
mount(App, { target })

/** A file on disk has no server to do without, and while developing every change should be seen. */
const isServed = location.protocol === 'https:' || location.protocol === 'http:'
if (import.meta.env.PROD && isServed && 'serviceWorker' in navigator) {
  // It fetches the files of every page: not while the first run is computed. Without it the page works too, with a network.
  const register = () => void navigator.serviceWorker.register('./sw.js').catch(() => undefined)
  addEventListener('load', () => setTimeout(register, 5000))
}
