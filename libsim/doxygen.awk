# Comments as the reference wants them, so that headers need no marks of their own: a comment above a declaration belongs to it
# and to those that follow without a blank line, one behind a declaration to that, and a function of one line without a comment is
# what its body says. One behind the brace that opens a type belongs to the type.
/^ *\/\/( |$)/ {
  if (!above) shared = ""
  above = 1
  text = $0
  sub(/\/\//, "///", text)
  shared = shared text "\n"
  print text
  next
}
/^ *(struct|class|enum)[^;(]*{ +\/\/ / {
  text = $0
  sub(/^.*{ +\/\/ /, "/// ", text)
  print text
  sub(/{ +\/\/ .*/, "{")
}
{
  first = above
  above = 0
  body = /\) (const )?\{ .*\}$/ || /\) : .*\{.*\}$/
  if ($0 ~ /^ *$/ || $0 ~ /^ *}/ || ($0 ~ /{$/ && $0 !~ /\) (const )?(noexcept )?{$/)) shared = ""
  else if (!first && ended && shared != "" && $0 ~ /\(/) printf "%s", shared
  else if (!first && body) printf "/// `%s`\n", $0
  ended = $0 ~ /[;}] *(\/\/.*)?$/
  if ($0 ~ /[;,{})a-z_] +\/\/ /) sub(/\/\/ /, "///< ")
  print
}
