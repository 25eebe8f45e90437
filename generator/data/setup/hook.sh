#!/bin/sh
# Checks the logbook as it would be committed; `git commit --no-verify` passes this by.
set -eu
staged=$(mktemp -d)
trap 'rm -rf "$staged"' EXIT
git ls-files -z -- @logbook@ | git checkout-index -z --stdin --prefix="$staged/"
unset GIT_DIR GIT_INDEX_FILE GIT_WORK_TREE
cd "$staged"
esterday check --quiet @logbook@
