" Settings for Sockscript: four spaces, comments with #, :make checks the pattern.
if exists('b:did_ftplugin')
  finish
endif
let b:did_ftplugin = 1

setlocal commentstring=#\ %s comments=:#
setlocal expandtab shiftwidth=4 softtabstop=4 autoindent
setlocal iskeyword+=-
setlocal foldmethod=indent foldlevel=99
compiler sockscript

let b:undo_ftplugin = 'setlocal commentstring< comments< expandtab< shiftwidth< softtabstop<'
      \ . ' autoindent< iskeyword< foldmethod< foldlevel< makeprg< errorformat<'
