# Comments as the reference wants them, so that headers need no marks of their own: a comment above or behind a declaration
# belongs to all that it declares, one above functions also to those that follow without a blank line, one behind the brace that
# opens a type to the type; and a function of one line without a comment is what its body says. No line is added or taken away, so
# that warnings name the line of the header.

# The declaration with the comment behind each of its names but the last: commas within brackets part nothing, and a line that ends
# within brackets of another is left alone.
function behind_each(code, comment, i, c, depth, text) {
  for (i = 1; i <= length(code); i++) {
    c = substr(code, i, 1)
    if (index("<({[", c)) depth++
    if (index(">)}]", c)) depth--
    text = text c
    if (c == "," && depth == 0) text = text " /**< " comment " */"
  }
  return depth == 0 ? text : code
}
/^ *\/\/( |$)/ && behind && index($0, "//") == at { # goes on from the line before
  sub(/\/\//, "///<")
  print
  next
}
/^ *\/\/( |$)/ {
  behind = 0
  if (!above) shared = ""
  above = 1
  text = $0
  sub(/^ *\/\/ */, "", text)
  shared = shared text " "
  sub(/\/\//, "///")
  print
  next
}
/^ *(struct|class|enum)[^;(]*{ +\/\/ / {
  text = $0
  sub(/^.*{ +\/\/ /, "", text)
  sub(/{ +\/\/ .*/, "{")
  print "/** " text " */ " $0
  above = behind = ended = 0
  shared = ""
  next
}
{
  first = above
  above = 0
  behind = match($0, /[;,{})a-z_] +\/\/ /)
  code = behind ? substr($0, 1, RSTART) : $0
  at = index($0, "//")
  comment = behind ? substr($0, RSTART + RLENGTH) : ""
  body = /\) (const )?\{ .*\}$/ || /\) : .*\{.*\}$/
  before = ""
  if ($0 ~ /^ *$|^ *}|^ *(public|private|protected):$/ || ($0 ~ /{$/ && $0 !~ /\) (const )?(noexcept )?{$/)) shared = ""
  else if (!first && !behind && ended && shared != "" && /\(/) before = "/** " shared "*/ "
  else if (!first && body) before = "/** `" $0 "` */ "
  ended = code ~ /[;}]$/
  if (ended && (behind || first)) each = behind_each(code, behind ? comment : shared)
  else each = code
  if (each != code && !behind) each = each " ///< " shared
  print before each (behind ? " ///< " comment : "")
}
