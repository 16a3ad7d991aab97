" :make checks the pattern; :copen lists what was found.
if exists('current_compiler')
  finish
endif
let current_compiler = 'sockscript'

execute 'CompilerSet makeprg=' . escape(
      \ sockscript#program(), ' \|"') . '\ check\ --format\ lines\ %:S'
CompilerSet errorformat=%f:%l:%c:\ %t%*[^:]:\ %m
