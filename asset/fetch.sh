#!/bin/sh
# fetch.sh: fetch the files of others that the program embeds, with their licences, into asset/fetched.
set -eu
cd "$(dirname "$0")"
command -v npm >/dev/null || { echo "make assets: npm is wanted (Node 20 or later); fonts and page scripts are left out" >&2; exit 1; }
npm ci --ignore-scripts --no-audit --no-fund --loglevel=error
copy() { to=fetched/$1; shift; mkdir -p "$to"; cp -f "$@" "$to/"; }
copy htmx node_modules/htmx.org/dist/htmx.min.js node_modules/htmx.org/LICENSE
copy sse node_modules/htmx-ext-sse/dist/sse.min.js node_modules/htmx-ext-sse/LICENSE
copy font node_modules/source-sans/LICENSE.md
for style in Regular Bold It; do
  copy font "node_modules/source-sans/TTF/SourceSans3-$style.ttf" "node_modules/source-sans/WOFF2/TTF/SourceSans3-$style.ttf.woff2"
done
touch fetched/.stamp
