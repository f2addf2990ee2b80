#!/bin/sh
# chromium.sh: see that there is a Chromium for the tests of the pages. Safe to repeat.
set -eu
for name in chromium chromium-browser google-chrome; do
  command -v "$name" >/dev/null && exit 0
done
if ! command -v apt-get >/dev/null; then
  echo "tests of the pages want Chromium: install it, then make test again" >&2
  exit 1
fi
sudo=""
[ "$(id -u)" = 0 ] || sudo=sudo
$sudo apt-get update -qq
DEBIAN_FRONTEND=noninteractive $sudo apt-get install -y -qq --no-install-recommends chromium >/dev/null
