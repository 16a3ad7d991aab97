autocmd BufNewFile,BufRead *.sockscript setfiletype sockscript
autocmd BufNewFile,BufRead *.machine if getline(1) . getline(2) . getline(3) =~? 'machine\|^#' | setfiletype sockscript | endif
