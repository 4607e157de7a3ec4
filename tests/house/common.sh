# SPDX-License-Identifier: MIT
# Copyright the Redress authors
#
# What the scripts beside this one share. Each takes the repository's root as its first argument,
# prints one line for each fault (FILE:LINE: what is wrong) and exits 1 if there was one.
export LC_ALL=C

failures=0
fault() {
  printf '%s\n' "$*"
  failures=$((failures + 1))
}

# All C++ files under the given folders that exist, in order, relative to the root.
sources() {
  local folder
  for folder in "$@"; do
    [[ -d $folder ]] && find "$folder" -type f \( -name '*.cpp' -o -name '*.hpp' \)
  done | sort
}

# The code of files without its comments, as FILE:LINE:CODE. String literals stay.
code_of() {
  (($# == 0)) || awk '
    FNR == 1 { in_comment = 0 }
    {
      line = $0; code = ""
      while (length(line) > 0) {
        if (in_comment) {
          i = index(line, "*/")
          if (i == 0) { line = ""; break }
          line = substr(line, i + 2); in_comment = 0
        } else {
          i = index(line, "//"); j = index(line, "/*")
          if (i > 0 && (j == 0 || i < j)) { code = code substr(line, 1, i - 1); break }
          if (j > 0) { code = code substr(line, 1, j - 1); line = substr(line, j + 2); in_comment = 1 }
          else { code = code line; break }
        }
      }
      if (code ~ /[^ \t]/) print FILENAME ":" FNR ":" code
    }' "$@"
}

# report PATTERN WHY CODE: a fault for each line of the code (as code_of prints it) that matches the
# extended expression.
report() {
  local file number code
  while IFS=: read -r file number code; do
    fault "$file:$number: $2:$code"
  done < <(grep -E -- "$1" <<<"$3")
}

finish() {
  if ((failures > 0)); then
    printf '%d fault(s)\n' "$failures"
    exit 1
  fi
  printf '%s\n' "${1:-nothing found}"
}
