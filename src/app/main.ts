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
  // After the first picture and run have been loaded. Without it the page works too, with a network.
  addEventListener('load', () => void navigator.serviceWorker.register('./sw.js').catch(() => undefined))
}
