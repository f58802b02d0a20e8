import { mount } from 'svelte'
import App from './App.svelte'
import './css/tokens.css'
import './css/base.css'

const target = document.getElementById('app')
if (!target) throw new Error('The page has no element with the id "app" to stand in.')
mount(App, { target })
