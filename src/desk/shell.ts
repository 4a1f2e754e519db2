/** The fixed pages: the desk itself, and the page for those who are not let in. */

export const DESK_PAGE = `<!doctype html>
<html lang="en-GB">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<title>Whorl desk</title>
<link rel="icon" href="data:,">
<link rel="stylesheet" href="/desk.css">
<script type="module" src="/main.js"></script>
</head>
<body>
<div id="desk"></div>
<noscript>The desk needs JavaScript, which it brings along itself.</noscript>
</body>
</html>
`;

export const SHUT_PAGE = (why: string): string => `<!doctype html>
<html lang="en-GB">
<head><meta charset="utf-8"><title>Whorl desk</title></head>
<body><h1>The desk is not open to this page</h1><p>${why.replace(/&/g, "&amp;").replace(/</g, "&lt;")}</p></body>
</html>
`;
