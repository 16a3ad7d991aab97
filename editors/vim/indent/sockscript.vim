" Indentation for Sockscript.  Made by editors/generate.py from the words of the grammar.
" Which line stands under which is the author's word alone, since indentation is meaning: a new
" line gets a depth, and a line that has words keeps the one that it has.
if exists('b:did_indent')
  finish
endif
let b:did_indent = 1

" 'autoindent' would forget the depth of a line that is moved down by Enter before its first word.
setlocal noautoindent indentexpr=SockscriptDepth(v:lnum) indentkeys=o,O
let b:undo_indent = 'setlocal autoindent< indentexpr< indentkeys<'

if exists('*SockscriptDepth')
  finish
endif

" The column in which a new line begins: that of the line above, or one step deeper after a line
" that opens a block.  Words that go on from a line do not count.
function SockscriptDepth(lnum) abort
  if getline(a:lnum) =~ '\S'
    if mode() !=# 'i'
      return -1
    elseif getline(a:lnum - 1) !~ '\S'
      return indent(a:lnum - 1) + indent(a:lnum)
    endif
  endif
  let number = prevnonblank(a:lnum - 1)
  while number > 0 && getline(number) =~ '^\s*["“]'
    let number = prevnonblank(number - 1)
  endwhile
  if number == 0
    return 0
  endif
  return indent(number) + (getline(number) =~? '^\s*\%(otherwise\|technique\|machine\|section\|repeat\|sizes\|words\|works\|step\|when\)\k\@!' ? shiftwidth() : 0)
endfunction
