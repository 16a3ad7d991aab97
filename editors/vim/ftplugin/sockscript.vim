" Settings for Sockscript: four spaces, comments with #, :make checks the pattern.
if exists('b:did_ftplugin')
  finish
endif
let b:did_ftplugin = 1

setlocal commentstring=#\ %s comments=:#
setlocal expandtab shiftwidth=4 softtabstop=4 autoindent
setlocal iskeyword+=- autoread
setlocal foldmethod=indent foldlevel=99
compiler sockscript

" The same names as in Neovim with the service (sockscript.lua), done by the program itself.
command! -buffer SockscriptCheck silent update | make | redraw! | cwindow
command! -buffer SockscriptMend update | execute '!' . sockscript#program() 'check --mend %:S' | edit
command! -buffer SockscriptFormat update | execute '!' . sockscript#program() 'format %:S' | edit
command! -buffer SockscriptOutline lvimgrep /^\(section\|technique\)\>/j % | lopen

let b:undo_ftplugin = 'setlocal commentstring< comments< expandtab< shiftwidth< softtabstop<'
      \ . ' autoindent< iskeyword< autoread< foldmethod< foldlevel< makeprg< errorformat<'
      \ . ' | delcommand -buffer SockscriptCheck | delcommand -buffer SockscriptMend'
      \ . ' | delcommand -buffer SockscriptFormat | delcommand -buffer SockscriptOutline'
