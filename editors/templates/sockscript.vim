" Vim syntax file for Sockscript.  Made by editors/generate.py from the words of the grammar.
if exists('b:current_syntax')
  finish
endif

syntax case ignore
syntax iskeyword @,48-57,192-255,-

" What is defined last is tried first.
syntax match sockscriptName "\<\k\+\>"
syntax match sockscriptOperator "[+*/×÷=%]\|-\k\@!"
syntax match sockscriptWord "\<@LATER@\>"
syntax match sockscriptSide "\<@ENDS@\>"
syntax match sockscriptBed "\<@BEDS@\>"
syntax match sockscriptFunction "\<@FUNCTIONS@\>\ze\s*("
syntax match sockscriptUnit "\%([0-9¼½¾⅓⅔⅛⅜⅝⅞]\s*\)\@10<=@UNITS@\k\@!"
syntax match sockscriptNumber "\d\+\%(\.\d\+\)\="
syntax match sockscriptNumber "\d*[¼½¾⅓⅔⅛⅜⅝⅞]"
syntax match sockscriptNumber "\d\+ \+\d\+/\d\+"
syntax match sockscriptNumber "\<\d\+\%(st\|nd\|rd\|th\)\>"
syntax match sockscriptNeedle "\<[lr]\d\+\>"
syntax match sockscriptNeedle "\<[lr]\ze("
syntax match sockscriptDefined "\%(^\s*@DEFINING@\s\+\)\@40<=\k\+"
syntax match sockscriptCalled "\%(^\s*@CALLING@\s\+\)\@40<=\k\+"
syntax match sockscriptStatement "\%(^\s*\)\@200<=\<@FIRST@\>"
syntax region sockscriptString start=+[0-9¼½¾⅓⅔⅛⅜⅝⅞]\@4<!"+ end=+"\|$+ contains=sockscriptValue keepend
syntax region sockscriptString start=+“+ end=+”\|$+ contains=sockscriptValue keepend
syntax match sockscriptValue "{[^}\"”]*}\=" contained
syntax match sockscriptComment "#.*$" contains=@Spell

highlight default link sockscriptName Identifier
highlight default link sockscriptOperator Operator
highlight default link sockscriptWord Keyword
highlight default link sockscriptSide Constant
highlight default link sockscriptBed Constant
highlight default link sockscriptFunction Function
highlight default link sockscriptUnit Type
highlight default link sockscriptNumber Number
highlight default link sockscriptNeedle Special
highlight default link sockscriptDefined Define
highlight default link sockscriptCalled Function
highlight default link sockscriptStatement Statement
highlight default link sockscriptString String
highlight default link sockscriptValue Special
highlight default link sockscriptComment Comment

let b:current_syntax = 'sockscript'
