;;; sockscript-mode.el --- Major mode for Sockscript sock patterns -*- lexical-binding: t -*-

;; Package-Requires: ((emacs "26.1"))
;; Version: 0.1
;; Keywords: languages

;;; Commentary:

;; Made by editors/generate.py from the words of the grammar.
;; Colours, comments, indentation, and a menu "Sockscript".  `M-x compile' checks the pattern and
;; jumps to what it finds.  With eglot (in Emacs since 29) it is checked while it is typed.

;;; Code:

(require 'easymenu)

(defgroup sockscript nil
  "Sock patterns in Sockscript."
  :group 'languages)

(defcustom sockscript-program "sockscript"
  "The program that checks patterns: its name, or the whole path to it."
  :type 'string)

(defcustom sockscript-check-as-you-type t
  "Whether a pattern is checked while it is typed.
That needs eglot and the program with its language server."
  :type 'boolean)

(defconst sockscript-first-words
  '("allow" "author" "beds" "bind" "bring" "builds" "cancel" "cast" "caution" "change"
    "cut" "dial" "do" "drop" "exchange" "expect" "feet" "fill" "fold" "front" "full"
    "gather" "gauge" "graft" "half" "hang" "has" "hold" "knit" "latch" "leaves" "let"
    "licence" "license" "machine" "mark" "move" "needles" "needs" "note" "option"
    "otherwise" "pattern" "pick" "pitches" "rack" "racking" "rehang" "remove" "repeat"
    "respect" "return" "row" "scrap" "section" "set" "sew" "sizes" "spacing" "step"
    "stitch" "swatch" "take" "target" "technique" "thread" "transfer" "use" "version"
    "when" "where" "words" "works" "wrap" "yarn")
  "Words that a line begins with.")

(defconst sockscript-later-words
  '("all" "along" "and" "as" "at" "because" "bed" "beds" "by" "carriage" "cast" "centre"
    "circular" "comb" "cord" "count" "counter" "default" "depth" "down" "dry" "edge"
    "empty" "equal" "even" "every" "far" "first" "foot" "for" "from" "full" "girth" "half"
    "heel" "held" "hold" "hung" "in" "increase" "into" "is" "knit" "knits" "last" "least"
    "leg" "length" "less" "measured" "more" "most" "multiple" "ne" "nearest" "needle"
    "needles" "nm" "not" "number" "odd" "of" "off" "on" "onto" "or" "other" "out" "over"
    "per" "pitch" "plus" "racking" "ravel" "respects" "rest" "round" "rounds" "row" "rows"
    "set" "side" "sides" "size" "slip" "slit" "stitch" "stitches" "stretches" "than" "the"
    "threaded" "time" "times" "to" "toe" "tube" "tuck" "turned" "until" "up" "upper"
    "washed" "waste" "weights" "wet" "whole" "width" "with" "within" "work" "working"
    "worsted" "yarn")
  "Words that stand within a line.")

(defconst sockscript-units
  '("cm" "g" "in" "inch" "inches" "m" "mm" "ounce" "ounces" "oz" "tex" "yard" "yards" "yd")
  "Units; they follow a number.")

(defconst sockscript-beds
  '("back" "both" "front")
  "Beds of the machine.")

(defconst sockscript-ends
  '("left" "right")
  "Ends of a bed.")

(defconst sockscript-functions
  '("count-before" "count-held" "count-on" "count-working" "height" "larger" "number"
    "rows" "smaller" "stitches" "width" "yarn-end")
  "Functions.")

(defconst sockscript-defining-words
  '("let" "option" "yarn" "technique")
  "First words that give the next word a meaning.")

(defconst sockscript-calling-words
  '("do" "exchange")
  "First words that call a technique.")

(defconst sockscript-opening-words
  '("machine" "otherwise" "repeat" "section" "sizes" "step" "technique" "when" "words"
    "works")
  "First words of lines that have others indented under them.")

(defvar sockscript-mode-syntax-table
  (let ((table (make-syntax-table)))
    (modify-syntax-entry ?# "<" table)
    (modify-syntax-entry ?\n ">" table)
    (modify-syntax-entry ?\" "\"" table)
    (modify-syntax-entry ?- "_" table)
    (modify-syntax-entry ?\\ "." table)
    (modify-syntax-entry ?' "." table)
    table)
  "Syntax of Sockscript: # begins a comment, a hyphen joins a name.")

(defconst sockscript-font-lock-keywords
  (let ((number "\\(?:[0-9]+[ -]+[0-9]+/[0-9]+\\|[0-9]*[¼½¾⅓⅔⅛⅜⅝⅞]\\|[0-9]+\\(?:[.,][0-9]+\\)?\\)"))
    `(("{[^}\"”\n]*}" (0 (and (eq (get-text-property (match-beginning 0) 'face)
                                  'font-lock-string-face)
                              'font-lock-preprocessor-face) t))
      (,(concat "^\\s-*" (regexp-opt sockscript-defining-words t) "\\s-+\\(\\(?:\\sw\\|\\s_\\)+\\)")
       (2 font-lock-variable-name-face))
      (,(concat "^\\s-*" (regexp-opt sockscript-calling-words t) "\\s-+\\(\\(?:\\sw\\|\\s_\\)+\\)")
       (2 font-lock-function-name-face))
      (,(concat "^\\s-*\\_<" (regexp-opt sockscript-first-words t) "\\_>")
       (1 font-lock-keyword-face))
      ("\\_<[lr][0-9]+\\_>" . font-lock-constant-face)
      ("\\_<\\([lr]\\)(" (1 font-lock-constant-face))
      ("\\_<[0-9]+\\(?:st\\|nd\\|rd\\|th\\)\\_>" . font-lock-constant-face)
      (,(concat number "\\s-*" (regexp-opt sockscript-units t) "\\_>")
       (1 font-lock-type-face))
      (,(concat "\\_<" (regexp-opt sockscript-functions t) "\\s-*(")
       (1 font-lock-function-name-face))
      (,(regexp-opt sockscript-beds 'symbols) . font-lock-constant-face)
      (,(regexp-opt sockscript-ends 'symbols) . font-lock-constant-face)
      (,(regexp-opt sockscript-later-words 'symbols) . font-lock-builtin-face)))
  "What is coloured.")

(defun sockscript-syntax-propertize (start end)
  "Between START and END, let strings end with their line, and let “…” be strings."
  (goto-char start)
  (beginning-of-line)
  (while (< (point) end)
    (let ((stop (line-end-position)))
      (while (re-search-forward "[#\"“]" stop t)
        (let* ((begin (1- (point)))
               (closing (if (eq (char-before) ?“) "”" "\"")))
          (cond
           ((eq (char-before) ?#) (goto-char stop))
           ;; Right after a number it stands for inches.
           ((and (eq (char-after begin) ?\")
                 (string-match-p "[0-9¼½¾⅓⅔⅛⅜⅝⅞]" (string (or (char-before begin) ?\s))))
            (put-text-property begin (1+ begin) 'syntax-table (string-to-syntax ".")))
           ((search-forward closing stop t)
            (when (equal closing "”")
              (sockscript--fence begin)
              (sockscript--fence (1- (point)))))
           (t
            (sockscript--fence begin)
            (sockscript--fence stop)
            (goto-char stop)))))
      (forward-line 1))))

(defun sockscript--fence (place)
  "Let a string begin or end at PLACE."
  (when (< place (point-max))
    (put-text-property place (1+ place) 'syntax-table (string-to-syntax "|"))))

;; Which line stands under which is the author's word alone: indentation is meaning.  So a line
;; that has words is moved only by TAB, never by leaving it.

(defconst sockscript-step 4
  "Columns from a line to those under it.")

(defun sockscript-depth ()
  "The column in which a new line begins here: that of the line above.
One step deeper after a line that opens a block.  Words that go on from a
line do not count."
  (save-excursion
    (beginning-of-line)
    (if (re-search-backward "^[ \t]*[^\"“ \t\n]" nil t)
        (+ (current-indentation)
           (if (looking-at (concat "[ \t]*" (regexp-opt sockscript-opening-words t) "\\_>"))
               sockscript-step
             0))
      0)))

(defun sockscript-indent-line ()
  "Indent a new line to its depth.
TAB again: one step less, and from the margin back to its depth."
  (interactive)
  (let* ((depth (sockscript-depth))
         (now (current-indentation))
         (new (cond
               ((not (eq this-command 'indent-for-tab-command)) depth)
               ((or (not (eq last-command this-command)) (/= (% now sockscript-step) 0))
                (if (= now depth) (max 0 (- now sockscript-step)) depth))
               ((= now 0) depth)
               (t (- now sockscript-step)))))
    (save-excursion (indent-line-to new))
    (when (< (current-column) new)
      (back-to-indentation))))

(defun sockscript--before-words ()
  "Whether point stands before the first word of a line that has one."
  (save-excursion
    (skip-chars-backward " \t")
    (and (bolp) (looking-at "[ \t]*[^ \t\n]"))))

(defun sockscript-newline (&optional count)
  "Begin a new line, or COUNT of them.
Before the first word of a line, leave that line as it is."
  (interactive "*p")
  (if (sockscript--before-words)
      (save-excursion
        (beginning-of-line)
        (insert (make-string count ?\n)))
    (newline count t)))

(defun sockscript-backspace (count)
  "Delete COUNT letters before point.
Before the first word of a line, go back to the next depth."
  (interactive "*p")
  (let ((over (% (1- (current-column)) sockscript-step)))
    (backward-delete-char-untabify
     (if (and (= count 1) (not (use-region-p)) (> (current-column) 0)
              (save-excursion (skip-chars-backward " ") (bolp)))
         (1+ over)
       count))))
(put 'sockscript-backspace 'delete-selection 'supersede)

(defvar sockscript-mode-map
  (let ((map (make-sparse-keymap)))
    (define-key map [remap newline] #'sockscript-newline)
    (define-key map (kbd "DEL") #'sockscript-backspace)
    map)
  "Keys of `sockscript-mode'.")

;; What the service does beside what every language server does.

(declare-function eglot-current-server "eglot")
(declare-function eglot-ensure "eglot")
(declare-function eglot--TextDocumentIdentifier "eglot")
(declare-function jsonrpc-request "jsonrpc")

(defun sockscript--ask (command &rest words)
  "What the service answers to COMMAND with WORDS."
  (let ((server (and (fboundp 'eglot-current-server) (eglot-current-server))))
    (unless server
      (user-error "This pattern is not checked while you type: start that with M-x eglot"))
    (jsonrpc-request server :workspace/executeCommand
                     (list :command command :arguments (vconcat words)))))

(defun sockscript--address ()
  "How the service calls this pattern."
  (plist-get (eglot--TextDocumentIdentifier) :uri))

(defun sockscript-choose-size (size)
  "Show the counts of SIZE at the ends of the lines."
  (interactive
   (list (completing-read
          "Show the counts of size: "
          (append (plist-get (sockscript--ask "sockscript.server.sizes" (sockscript--address))
                             :sizes)
                  nil)
          nil t)))
  (sockscript--ask "sockscript.server.chooseSize" size))

(defun sockscript-show-needles ()
  "Show both beds after this line in another window."
  (interactive)
  (let ((found (sockscript--ask "sockscript.server.needles" (sockscript--address)
                                (1- (line-number-at-pos nil t)))))
    (with-current-buffer (get-buffer-create "*needles*")
      (let ((inhibit-read-only t))
        (erase-buffer)
        (insert (if found
                    (concat (plist-get found :title) "\n\n" (plist-get found :text) "\n")
                  (concat "Nothing has been knitted up to this line, or the pattern has slips "
                          "to mend first.\n")))
        (goto-char (point-min)))
      (special-mode)
      (display-buffer (current-buffer)))))

(defun sockscript-check ()
  "Save the pattern and check it; the list of findings leads to their places."
  (interactive)
  (save-buffer)
  (compile compile-command))

(easy-menu-define sockscript-menu sockscript-mode-map
  "What can be done with a pattern."
  '("Sockscript"
    ["Check the pattern" sockscript-check]
    ["List the outline" imenu]
    "---"
    ["Check while typing" eglot]
    ["Mend what stands here" eglot-code-actions :enable (sockscript--served-p)]
    ["Rename what stands here" eglot-rename :enable (sockscript--served-p)]
    ["Lay the pattern out" eglot-format-buffer :enable (sockscript--served-p)]
    ["Choose the size whose counts are shown" sockscript-choose-size
     :enable (sockscript--served-p)]
    ["Show the needles after this line" sockscript-show-needles
     :enable (sockscript--served-p)]))

(defun sockscript--served-p ()
  "Whether the pattern is checked while it is typed."
  (and (fboundp 'eglot-current-server) (eglot-current-server)))

;;;###autoload
(define-derived-mode sockscript-mode prog-mode "Sockscript"
  "Major mode for sock patterns in Sockscript."
  (setq-local comment-start "# ")
  (setq-local comment-end "")
  (setq-local comment-start-skip "#+\\s-*")
  (setq-local indent-tabs-mode nil)
  (setq-local indent-line-function #'sockscript-indent-line)
  (setq-local indent-region-function #'ignore)
  (setq-local electric-indent-inhibit t)
  (setq-local syntax-propertize-function #'sockscript-syntax-propertize)
  (setq-local font-lock-defaults '(sockscript-font-lock-keywords nil t))
  (setq-local imenu-generic-expression
              '(("Sections" "^section\\s-+[\"“]\\([^\"”\n]*\\)" 1)
                ("Techniques" "^technique\\s-+\\(\\(?:\\sw\\|\\s_\\)+\\)" 1)))
  (when buffer-file-name
    (setq-local compile-command
                (concat (shell-quote-argument sockscript-program)
                        " check --format lines "
                        (shell-quote-argument (file-name-nondirectory buffer-file-name))))
    (when (and sockscript-check-as-you-type (fboundp 'eglot-ensure)
               (executable-find sockscript-program))
      (eglot-ensure))))

;;;###autoload
(add-to-list 'auto-mode-alist '("\\.\\(?:sockscript\\|machine\\)\\'" . sockscript-mode))

(defvar eglot-server-programs)
(with-eval-after-load 'eglot
  (add-to-list 'eglot-server-programs
               '(sockscript-mode . (lambda (&rest _)
                                     (list sockscript-program "language-server")))))

(provide 'sockscript-mode)
;;; sockscript-mode.el ends here
