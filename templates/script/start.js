// The end of faultleaf.js: everything before this line names the site's hashed
// files in faultleafFiles. Before anything is painted it puts on how this browser
// wants pages to look; then it loads the app script, so that pages themselves never
// change with it.
(() => {
  'use strict';
  const page = document.documentElement;
  try {
    const look = JSON.parse(localStorage.getItem(page.dataset.shop + ':look')) || {};
    if (['light', 'dark'].includes(look.scheme)) page.dataset.scheme = look.scheme;
    if (look.type === 'large') page.dataset.type = 'large';
  } catch { /* nothing is kept */ }
  const load = () => {
    const script = document.createElement('script');
    script.src = (page.dataset.root || '') + faultleafFiles.app;
    document.head.append(script);
  };
  if (document.readyState === 'loading') document.addEventListener('DOMContentLoaded', load); else load();
})();
