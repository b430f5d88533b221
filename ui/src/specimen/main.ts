import '@fontsource-variable/atkinson-hyperlegible-mono/wght.css';
import '@fontsource-variable/atkinson-hyperlegible-next/wght.css';
import '../lib/theme.css';

import { mount } from 'svelte';

import { setTheme } from '../lib/kit/theme';
import Specimen from './Specimen.svelte';

// `#dark`, `#site` and the like choose what the sheet is shown in.
const words = location.hash.slice(1).split('+');
setTheme(words.includes('dark') ? 'dark' : 'light');
if (words.includes('site')) document.body.dataset.view = 'site';

const target = document.getElementById('app');
if (!target) throw new Error('The page has no place for the sheet.');
mount(Specimen, { target });
