#!/bin/sh
# Installs the Debian packages the tests and the browser proofs need, where that is allowed;
# otherwise names the missing ones in one line. Never fails: the program itself needs none of them.
missing=""
command -v pdftoppm >/dev/null 2>&1 || missing="$missing poppler-utils"
command -v chromium >/dev/null 2>&1 || missing="$missing chromium"
ls /usr/lib/postgresql/*/bin/initdb >/dev/null 2>&1 || missing="$missing postgresql"
command -v ccx >/dev/null 2>&1 || missing="$missing calculix-ccx"
[ -z "$missing" ] && exit 0
if [ "$(id -u)" = 0 ] && command -v apt-get >/dev/null 2>&1; then
  apt-get update -qq >/dev/null 2>&1
  # shellcheck disable=SC2086
  DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends $missing >/dev/null 2>&1 && exit 0
fi
echo "missing system packages (tests of papers and pages need them):$missing"
exit 0
