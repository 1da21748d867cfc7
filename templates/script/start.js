// The end of faultleaf.js: everything before this line names the site's hashed
// files in faultleafFiles. It loads the app script, so that pages themselves
// never change with it.
(() => {
  'use strict';
  const root = document.documentElement.dataset.root || '';
  const script = document.createElement('script');
  script.src = root + faultleafFiles.app;
  document.head.append(script);
})();
