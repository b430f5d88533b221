import '@fontsource-variable/atkinson-hyperlegible-mono/wght.css';
import '@fontsource-variable/atkinson-hyperlegible-next/wght.css';
import './lib/theme.css';

import { mount } from 'svelte';

import App from './App.svelte';
import { chosenTheme, setTheme } from './lib/kit/theme';

// Before anything is drawn, so that a dark room never sees a white page.
setTheme(chosenTheme());

// Begun before the first word is drawn, so that none is drawn in other letters first.
void document.fonts.load('1em "Atkinson Hyperlegible Next Variable"');

const target = document.getElementById('app');
if (!target) throw new Error('The page has no place for the window’s content.');
mount(App, { target });
