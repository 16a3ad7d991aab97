" Vim syntax file for Sockscript.  Made by editors/generate.py from the words of the grammar.
if exists('b:current_syntax')
  finish
endif

syntax case ignore
syntax iskeyword @,48-57,192-255,-

" What is defined last is tried first.
syntax match sockscriptName "\<\k\+\>"
syntax match sockscriptOperator "[+*/×÷=%]\|-\k\@!"
syntax match sockscriptWord "\<\%(stretches\|carriage\|circular\|increase\|measured\|multiple\|respects\|stitches\|threaded\|because\|counter\|default\|nearest\|needles\|racking\|weights\|working\|worsted\|centre\|length\|needle\|number\|rounds\|stitch\|turned\|washed\|within\|along\|count\|depth\|empty\|equal\|every\|first\|girth\|knits\|least\|other\|pitch\|ravel\|round\|sides\|times\|until\|upper\|waste\|whole\|width\|beds\|cast\|comb\|cord\|down\|edge\|even\|foot\|from\|full\|half\|heel\|held\|hold\|hung\|into\|knit\|last\|less\|more\|most\|onto\|over\|plus\|rest\|rows\|side\|size\|slip\|slit\|than\|time\|tube\|tuck\|with\|work\|yarn\|all\|and\|bed\|dry\|far\|for\|leg\|not\|odd\|off\|out\|per\|row\|set\|the\|toe\|wet\|as\|at\|by\|in\|is\|ne\|nm\|of\|on\|or\|to\|up\)\>"
syntax match sockscriptSide "\<\%(right\|left\)\>"
syntax match sockscriptBed "\<\%(front\|back\|both\)\>"
syntax match sockscriptFunction "\<\%(count-working\|count-before\|count-held\|count-on\|stitches\|yarn-end\|smaller\|height\|larger\|number\|width\|rows\)\>\ze\s*("
syntax match sockscriptUnit "\%([0-9¼½¾⅓⅔⅛⅜⅝⅞]\s*\)\@10<=\%(inches\|ounces\|ounce\|yards\|inch\|yard\|tex\|cm\|in\|mm\|oz\|yd\|g\|m\)\k\@!"
syntax match sockscriptNumber "\d\+\%(\.\d\+\)\="
syntax match sockscriptNumber "\d*[¼½¾⅓⅔⅛⅜⅝⅞]"
syntax match sockscriptNumber "\d\+ \+\d\+/\d\+"
syntax match sockscriptNumber "\<\d\+\%(st\|nd\|rd\|th\)\>"
syntax match sockscriptNeedle "\<[lr]\d\+\>"
syntax match sockscriptNeedle "\<[lr]\ze("
syntax match sockscriptDefined "\%(^\s*\%(technique\|option\|yarn\|let\)\s\+\)\@40<=\k\+"
syntax match sockscriptCalled "\%(^\s*\%(exchange\|do\)\s\+\)\@40<=\k\+"
syntax match sockscriptStatement "\%(^\s*\)\@200<=\<\%(otherwise\|technique\|exchange\|transfer\|caution\|licence\|license\|machine\|needles\|pattern\|pitches\|racking\|respect\|section\|spacing\|version\|author\|builds\|cancel\|change\|expect\|gather\|leaves\|option\|rehang\|remove\|repeat\|return\|stitch\|swatch\|target\|thread\|allow\|bring\|front\|gauge\|graft\|latch\|needs\|scrap\|sizes\|where\|words\|works\|beds\|bind\|cast\|dial\|drop\|feet\|fill\|fold\|full\|half\|hang\|hold\|knit\|mark\|move\|note\|pick\|rack\|step\|take\|when\|wrap\|yarn\|cut\|has\|let\|row\|set\|sew\|use\|do\)\>"
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
