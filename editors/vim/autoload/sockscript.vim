" The program, ready for a shell: g:sockscript_program where it is not found by its name.
function sockscript#program() abort
  let program = expand(get(g:, 'sockscript_program', 'sockscript'))
  return program =~ '[^[:alnum:]/._-]' ? shellescape(program) : program
endfunction
