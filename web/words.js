// The language of the page. It is chosen before anything is shown; English
// stands in the markup, another language's texts come from a file of their
// own, and the page stays covered until they are there.
'use strict';
(function () {
  const FILES = { de: 'words-de.txt' };
  const KEY = 'agremens.language'; // in the browser's storage: what the user chose
  const PATIENCE = 3000; // ms the page stays covered; then it shows English for now
  const root = document.documentElement;
  const page = globalThis.agremens = globalThis.agremens || {};

  let chosen = null;
  try { chosen = localStorage.getItem(KEY); } catch { /* nothing may be kept here */ }
  const known = (language) => language === 'en' || language in FILES;
  page.language = [chosen, ...(navigator.languages ?? [navigator.language])]
    .map((language) => String(language).slice(0, 2).toLowerCase()).find(known) ?? 'en';

  const fetchTexts = async (language) => {
    const response = await fetch(FILES[language], { signal: AbortSignal.timeout?.(30_000) });
    if (!response.ok) throw new Error(String(response.status));
    return response.text();
  };

  const texts = new Map();
  // read takes the packed form of realize/words: records parted by U+001E,
  // their fields by U+001F.
  function read(packed) {
    for (const record of packed.split('\x1e').slice(1)) {
      const [english, said] = record.split('\x1f');
      texts.set(english, said);
    }
  }

  // say translates an English text and fills its {places}.
  page.say = (english, fill = {}) => (texts.get(english) ?? english)
    .replace(/\{\w+\}/g, (place) => fill[place.slice(1, -1)] ?? place);

  const ATTRIBUTES = ['aria-label', 'title', 'placeholder', 'alt', 'label'];

  // A text that means two things in English has its context in the markup.
  const key = (element, text) => {
    const context = element.dataset?.context;
    return (context ? context + '\x04' : '') + text.trim().replace(/\s+/g, ' ');
  };

  // translate goes on where it was last, so that what is read of the page by
  // then can be shown before the rest.
  let walk;
  function translate() {
    walk ??= document.createTreeWalker(document.body, NodeFilter.SHOW_ELEMENT | NodeFilter.SHOW_TEXT,
      (node) => (node.translate === false ? NodeFilter.FILTER_REJECT : NodeFilter.FILTER_ACCEPT));
    for (let node = walk.nextNode(); node; node = walk.nextNode()) {
      if (node.nodeType === Node.TEXT_NODE) {
        const said = texts.get(key(node.parentElement, node.data));
        if (said) node.data = /^\s*/.exec(node.data)[0] + said + /\s*$/.exec(node.data)[0];
        continue;
      }
      for (const name of ATTRIBUTES) {
        const said = node.hasAttribute(name) && texts.get(key(node, node.getAttribute(name)));
        if (said) node.setAttribute(name, said);
      }
    }
  }

  // The manual has a page for each language.
  const linkManual = (language) => {
    for (const link of document.querySelectorAll('a[href="manual-en.html"]')) link.href = `manual-${language}.html`;
  };

  const parsed = new Promise((resolve) => {
    if (document.readyState !== 'loading') resolve();
    else document.addEventListener('DOMContentLoaded', resolve, { once: true });
  });
  const uncover = () => { delete root.dataset.words; };

  // uncoverEarly shows what is there of the page, where its texts have come.
  // It is called by a script in the page, between two elements.
  page.uncoverEarly = () => {
    if (texts.size === 0) return;
    translate();
    uncover();
  };

  async function speak(language) {
    root.lang = language;
    root.dataset.words = 'awaited';
    const late = setTimeout(uncover, PATIENCE);
    try {
      page.words = await fetchTexts(language);
      read(page.words);
      await parsed;
      translate();
      linkManual(language);
    } catch {
      page.language = root.lang = 'en'; // without a network, before the texts were ever here
    }
    clearTimeout(late);
    uncover();
  }

  // spoken is kept when the page speaks its language, whether or not its texts
  // could be had.
  page.spoken = page.language === 'en' ? Promise.resolve() : speak(page.language);

  // setLanguage keeps another choice and loads the page anew. It fails, and
  // changes nothing, where the texts cannot be had or nothing can be kept.
  page.setLanguage = async (language) => {
    if (language in FILES) await fetchTexts(language);
    localStorage.setItem(KEY, language);
    location.reload();
  };

  // keepWords lets the texts pass through the service worker, which keeps them.
  page.keepWords = () => { if (page.words) fetchTexts(page.language).catch(() => {}); };
})();
