// The shop's inbox on the host, where there is one.
'use strict';

let theInbox = null;

function startInbox() {}
