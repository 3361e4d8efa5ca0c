;;; crochet-keywords.el --- Coloring of crochet patterns  -*- lexical-binding: t; -*-

;; SPDX-License-Identifier: MIT

;;; Commentary:

;; Made by go generate ./editors; do not edit.
;; `crochet-keywords-setup' makes font-lock color the notation in a buffer.

;;; Code:

(defconst crochet-keywords-heads
  '(
    (Title "^[\t ]*\\(pattern\\)[\t  ]*:" font-lock-string-face (1 . font-lock-keyword-face))
    (Text "^[\t ]*\\(abbreviations?\\|caution\\|designer\\|notes?\\|version\\)[\t  ]*:" font-lock-string-face (1 . font-lock-keyword-face))
    (Setting "^[\t ]*\\(level\\|skill\\(?:\\(?:[\t  ]+\\|[‐-—−-]\\)level\\)?\\|terms\\|worked\\)[\t  ]*:" font-lock-constant-face (1 . font-lock-keyword-face))
    (Measure "^[\t ]*\\(finished\\(?:[\t  ]+\\|[‐-—−-]\\)size\\|gauge\\|hook\\|size\\|t\\(?:ension\\|urning\\(?:[\t  ]+\\|[‐-—−-]\\)ch\\(?:ain\\)?\\)\\)[\t  ]*:" nil (1 . font-lock-keyword-face))
    (Yarn "^[\t ]*\\(yarn\\)\\(?:[\t  ]+\\([^\t\n :]+\\)\\)?[\t  ]*:" nil (1 . font-lock-keyword-face) (2 . font-lock-variable-name-face))
    (Notion "^[\t ]*\\(notions?\\)[\t  ]*:" nil (1 . font-lock-keyword-face))
    (Stitch "^[\t ]*\\(stitch\\)[\t  ]*:" nil (1 . font-lock-keyword-face))
    (Piece "^[\t ]*\\(piece\\)[\t  ]*:" nil (1 . font-lock-keyword-face))
    (With "^[\t ]*\\(with\\)[\t  ]*:" nil (1 . font-lock-keyword-face))
    (Round "^[\t ]*\\(r\\(?:nds?\\|o\\(?:unds?\\|ws?\\)\\)?\\)\\(?:[\t  ]*\\([0-9]+\\)\\)?\\(?:[\t  ]*\\(?:[‐-—−-]\\|to\\>\\|and\\>\\|&\\)[\t  ]*\\([0-9]+\\)\\)?\\(?:[\t  ]*[([]?[\t  ]*\\(RS\\|WS\\|right side\\|wrong side\\)[\t  ]*[])]?\\)?[\t  ]*:" nil (1 . font-lock-keyword-face) (2 . font-lock-constant-face) (3 . font-lock-constant-face) (4 . font-lock-constant-face))
    (Assembly "^[\t ]*\\(assembly\\|making\\(?:[\t  ]+\\|[‐-—−-]\\)up\\)[\t  ]*:" nil (1 . font-lock-keyword-face))
    (Sewn "^[\t ]*\\(attach\\|sew\\)[\t  ]*:" nil (1 . font-lock-keyword-face))
    (Placed "^[\t ]*\\(embroider\\|place\\)[\t  ]*:" nil (1 . font-lock-keyword-face))
    (Action "^[\t ]*\\(b\\(?:lock\\|rush\\)\\|c\\(?:hange\\(?:[\t  ]+\\|[‐-—−-]\\)to\\|lose\\|ontinue\\|ut\\)\\|do\\(?:\\(?:[\t  ]+\\|[‐-—−-]\\)not\\(?:[\t  ]+\\|[‐-—−-]\\)\\(?:fasten\\(?:[\t  ]+\\|[‐-—−-]\\)off\\|stuff\\)\\|n['’]t\\(?:[\t  ]+\\|[‐-—−-]\\)\\(?:fasten\\(?:[\t  ]+\\|[‐-—−-]\\)off\\|stuff\\)\\)\\|fasten\\(?:[\t  ]+\\|[‐-—−-]\\)off\\|insert\\|join\\|leave\\|move\\|place\\(?:[\t  ]+\\|[‐-—−-]\\)marker\\|stuff\\|turn\\|weave\\(?:[\t  ]+\\|[‐-—−-]\\)in\\)\\>" nil (1 . font-lock-keyword-face)))
  "What begins a statement of each kind.
Each is (KIND REGEXP FACE (GROUP . FACE)...): FACE is that of what
no rule colors, or nil.")

(defconst crochet-keywords-rules
  '(
    ((Yarn) t nil "\\([^\t\n #,/][^\n#,/]*?\\)\\(?:[\t  ]*\\(?:[#,]\\|$\\|//\\)\\)" (1 . font-lock-string-face))
    ((Notion) t nil "\\([0-9]+\\(?:\\.[0-9]+\\)?\\)\\([\t  ]+\\)\\([^\t\n (,/;][^\n(,/;]*?\\)\\(?:[\t  ]*\\(?:[(,]\\|$\\|//\\)\\)" (1 . font-lock-constant-face) (2 . default) (3 . font-lock-string-face))
    ((Notion) t nil "\\([^\t\n (,/;][^\n(,/;]*?\\)\\(?:[\t  ]*\\(?:[(,]\\|$\\|//\\)\\)" (1 . font-lock-string-face))
    ((Stitch) t nil "\\([^\t\n (,/=][^\n(,/=]*?\\)\\(?:[\t  ]*\\(?:[(,=]\\|$\\|//\\)\\)" (1 . font-lock-function-name-face))
    ((Piece) t nil "\\([^\t\n (/][^\n(/]*?\\)\\(?:[\t  ]*\\(?:(\\|$\\|//\\)\\)" (1 . font-lock-type-face))
    ((Sewn) t nil "\\([^\t\n ,/;][^\n,/;]*?\\)\\(?:[\t  ]+\\(?:[x×][\t  ]*[0-9]\\|\\(?:to\\|on\\)[\t  ]+\\)\\)" (1 . font-lock-type-face))
    ((Placed) t nil "\\([0-9]+\\(?:\\.[0-9]+\\)?\\)\\([\t  ]+\\)\\([^\t\n (,/;][^\n(,/;]*?\\)\\(?:[\t  ]+\\(?:in[\t  ]+\\(?:[A-Z]\\|[CM]C\\)[0-9]*[\t  ]+\\)?on[\t  ]+\\)" (1 . font-lock-constant-face) (2 . default) (3 . font-lock-string-face))
    ((Placed) t nil "\\([^\t\n (,/;][^\n(,/;]*?\\)\\(?:[\t  ]+\\(?:in[\t  ]+\\(?:[A-Z]\\|[CM]C\\)[0-9]*[\t  ]+\\)?on[\t  ]+\\)" (1 . font-lock-string-face))
    ((Action) t t "\\(\\(?:[A-Z]\\|[CM]C\\)[0-9]*\\)\\>" (1 . font-lock-variable-name-face))
    ((Sewn Placed) nil nil "\\(;\\)\\([^\n]+?\\)\\(?:[\t ]*\\(?:$\\|[\t ]//\\)\\)" (1 . default) (2 . font-lock-string-face))
    ((Sewn Placed) nil nil "\\(?:\\<\\|[0-9]\\)\\(on\\|at\\|in\\)\\([\t  ]+\\)\\(r\\(?:nds?\\|o\\(?:unds?\\|ws?\\)\\)\\)\\>" (1 . font-lock-builtin-face) (2 . default) (3 . font-lock-builtin-face))
    ((Sewn Placed) nil nil "\\(?:\\<\\|[0-9]\\)\\(in[^\n!-,.-~]+line[^\n!-,.-~]+with\\)\\([\t  ]+\\)\\([^\t\n ,./;][^\n,./;]*?\\)\\(?:[\t  ]*\\(?:[,.;]\\|$\\|//\\)\\)" (1 . font-lock-builtin-face) (2 . default) (3 . font-lock-type-face))
    ((Sewn Placed Action) nil nil "\\(?:\\<\\|[0-9]\\)\\(a\\(?:bout\\|part\\)\\|b\\(?:ack\\|ottom\\)\\|cent\\(?:ered\\|red\\)\\|front\\|in[^\n!-,.-~]+line[^\n!-,.-~]+with\\|left\\|open[^\n!-,.-~]+edge\\|right\\|sides\\|top\\)\\>" (1 . font-lock-builtin-face))
    ((Sewn Placed) nil nil "\\(?:\\<\\|[0-9]\\)\\(to\\|on\\)\\([\t  ]+\\)\\([^\t\n ,./;][^\n,./;]*?\\)\\(?:[\t  ]*\\(?:[,.;]\\|$\\|//\\)\\)" (1 . font-lock-builtin-face) (2 . default) (3 . font-lock-type-face))
    ((Round Sewn Placed Action) nil t "\\(?:\\<\\|[0-9]\\)\\([Ww][Ii][Tt][Hh]\\|[Uu][Ss][Ii][Nn][Gg]\\|[Cc][Hh][Aa][Nn][Gg][Ee]\\(?:[^\n!-,.-~]+[Tt][Oo]\\|[^\n!-,.-~]+[Tt][Oo][Ss]\\|[^\n!-,.-~]+[Tt][Oo][Ee][Ss]\\|[^\n!-,.-~]+[Cc][Oo][Ll][Oo][Uu][Rr][^\n!-,.-~]+[Tt][Oo]\\|[^\n!-,.-~]+[Cc][Oo][Ll][Oo][Uu][Rr][^\n!-,.-~]+[Tt][Oo][Ss]\\|[^\n!-,.-~]+[Cc][Oo][Ll][Oo][Uu][Rr][^\n!-,.-~]+[Tt][Oo][Ee][Ss]\\|[^\n!-,.-~]+[Cc][Oo][Ll][Oo][Rr][^\n!-,.-~]+[Tt][Oo]\\|[^\n!-,.-~]+[Cc][Oo][Ll][Oo][Rr][^\n!-,.-~]+[Tt][Oo][Ss]\\|[^\n!-,.-~]+[Cc][Oo][Ll][Oo][Rr][^\n!-,.-~]+[Tt][Oo][Ee][Ss]\\)\\|[Ss][Ww][Ii][Tt][Cc][Hh]\\(?:[^\n!-,.-~]+[Tt][Oo]\\|[^\n!-,.-~]+[Tt][Oo][Ss]\\|[^\n!-,.-~]+[Tt][Oo][Ee][Ss]\\)\\|[Cc][Hh][Aa][Nn][Gg][Ii][Nn][Gg]\\(?:[^\n!-,.-~]+[Tt][Oo]\\|[^\n!-,.-~]+[Tt][Oo][Ss]\\|[^\n!-,.-~]+[Tt][Oo][Ee][Ss]\\)\\|[Jj][Oo][Ii][Nn]\\(?:\\|[Ii][Nn][Gg]\\)\\|[Aa][Nn][Dd]\\|[Ii][Nn]\\|[Tt][Oo]\\)\\([\t  ]+\\)\\(\\(?:[A-Z]\\|[CM]C\\)[0-9]*\\)\\>" (1 . font-lock-builtin-face) (2 . default) (3 . font-lock-variable-name-face))
    ((Yarn) nil nil "\\(#[0-9A-Za-z]+\\)" (1 . font-lock-constant-face))
    ((Measure Action) nil nil "\\([0-9]+\\(?:\\.[0-9]+\\)?\\)\\([\t  ]+\\)\\(in\\)\\>" (1 . font-lock-constant-face) (2 . default) (3 . font-lock-type-face))
    ((Measure Yarn Stitch Piece With Round Sewn Placed Action) nil nil "\\([0-9]+\\(?:\\.[0-9]+\\)?\\)\\([\"”″]\\)" (1 . font-lock-constant-face) (2 . font-lock-type-face))
    ((Measure Yarn Stitch Piece With Round Sewn Placed Action) nil nil "\\(\"[^\n\"]*\"\\|“[^\n”]*”\\)" (1 . font-lock-string-face))
    ((Measure Stitch Round Sewn Placed Action) nil nil "\\([0-9]+[‐-—−-]ch\\(?:\\|ain\\)\\(?:[^\n!-,.-~]+\\)?\\(?:l\\(?:oops?\\|ps?\\)\\|sp\\(?:aces?\\|s\\)?\\)\\)\\>" (1 . font-lock-function-name-face))
    ((Measure Stitch Round Sewn Placed Action) nil nil "\\(?:\\<\\|[0-9]\\)\\(ch\\(?:\\|ain\\)\\(?:[^\n!-,.-~]+\\)?\\(?:[0-9]+\\(?:[^\n!-,.-~]+\\)?\\)?\\(?:l\\(?:oops?\\|ps?\\)\\|sp\\(?:aces?\\|s\\)?\\)\\)\\>" (1 . font-lock-function-name-face))
    ((Measure Stitch Round Sewn Placed Action) nil nil "\\(?:\\<\\|[0-9]\\)\\(\\(?:2\\(?:[^\n!-,.-~]+\\)?\\(?:ch[^\n!-,.-~]+picot\\|d\\(?:c[^\n!-,.-~]+cl\\(?:uster\\)?\\|ouble[^\n!-,.-~]+\\(?:crochet[^\n!-,.-~]+cluster\\|treble[^\n!-,.-~]+c\\(?:luster\\|rochet[^\n!-,.-~]+cluster\\)\\)\\|tr[^\n!-,.-~]+cl\\(?:uster\\)?\\)\\|h\\(?:alf[^\n!-,.-~]+\\(?:double[^\n!-,.-~]+crochet[^\n!-,.-~]+cluster\\|treble[^\n!-,.-~]+c\\(?:luster\\|rochet[^\n!-,.-~]+cluster\\)\\)\\|dc[^\n!-,.-~]+cl\\(?:uster\\)?\\|tr[^\n!-,.-~]+cl\\(?:uster\\)?\\)\\|tr\\(?:[^\n!-,.-~]+cl\\(?:uster\\)?\\|eble[^\n!-,.-~]+c\\(?:luster\\|rochet[^\n!-,.-~]+cluster\\)\\)\\)\\|[345]\\(?:[^\n!-,.-~]+\\)?\\(?:ch[^\n!-,.-~]+picot\\|d\\(?:c[^\n!-,.-~]+\\(?:bob\\(?:ble\\)?\\|cl\\(?:uster\\)?\\|p\\(?:c\\|opcorn\\)\\|shell\\)\\|ouble[^\n!-,.-~]+\\(?:crochet[^\n!-,.-~]+\\(?:bobble\\|cluster\\|popcorn\\|shell\\)\\|treble[^\n!-,.-~]+c\\(?:luster\\|rochet[^\n!-,.-~]+cluster\\)\\)\\|tr[^\n!-,.-~]+cl\\(?:uster\\)?\\)\\|h\\(?:alf[^\n!-,.-~]+\\(?:double[^\n!-,.-~]+crochet[^\n!-,.-~]+\\(?:cluster\\|puff\\)\\|treble[^\n!-,.-~]+\\(?:c\\(?:luster\\|rochet[^\n!-,.-~]+\\(?:cluster\\|puff\\)\\)\\|puff\\)\\)\\|dc[^\n!-,.-~]+\\(?:cl\\(?:uster\\)?\\|puff\\(?:[^\n!-,.-~]+st\\)?\\)\\|tr[^\n!-,.-~]+\\(?:cl\\(?:uster\\)?\\|puff\\(?:[^\n!-,.-~]+st\\)?\\)\\)\\|tr\\(?:[^\n!-,.-~]+\\(?:bob\\(?:ble\\)?\\|cl\\(?:uster\\)?\\|p\\(?:c\\|opcorn\\)\\|shell\\)\\|eble[^\n!-,.-~]+\\(?:bobble\\|c\\(?:luster\\|rochet[^\n!-,.-~]+\\(?:bobble\\|cluster\\|popcorn\\|shell\\)\\)\\|popcorn\\|shell\\)\\)\\)\\|6\\(?:[^\n!-,.-~]+\\)?\\(?:d\\(?:c[^\n!-,.-~]+\\(?:bob\\(?:ble\\)?\\|cl\\(?:uster\\)?\\|p\\(?:c\\|opcorn\\)\\|shell\\)\\|ouble[^\n!-,.-~]+\\(?:crochet[^\n!-,.-~]+\\(?:bobble\\|cluster\\|popcorn\\|shell\\)\\|treble[^\n!-,.-~]+c\\(?:luster\\|rochet[^\n!-,.-~]+cluster\\)\\)\\|tr[^\n!-,.-~]+cl\\(?:uster\\)?\\)\\|h\\(?:alf[^\n!-,.-~]+\\(?:double[^\n!-,.-~]+crochet[^\n!-,.-~]+cluster\\|treble[^\n!-,.-~]+c\\(?:luster\\|rochet[^\n!-,.-~]+cluster\\)\\)\\|dc[^\n!-,.-~]+cl\\(?:uster\\)?\\|tr[^\n!-,.-~]+cl\\(?:uster\\)?\\)\\|tr\\(?:[^\n!-,.-~]+\\(?:bob\\(?:ble\\)?\\|cl\\(?:uster\\)?\\|p\\(?:c\\|opcorn\\)\\|shell\\)\\|eble[^\n!-,.-~]+\\(?:bobble\\|c\\(?:luster\\|rochet[^\n!-,.-~]+\\(?:bobble\\|cluster\\|popcorn\\|shell\\)\\)\\|popcorn\\|shell\\)\\)\\)\\|[789]\\(?:[^\n!-,.-~]+\\)?\\(?:d\\(?:c[^\n!-,.-~]+shell\\|ouble[^\n!-,.-~]+crochet[^\n!-,.-~]+shell\\)\\|tr\\(?:[^\n!-,.-~]+shell\\|eble[^\n!-,.-~]+\\(?:crochet[^\n!-,.-~]+shell\\|shell\\)\\)\\)\\|adjustable[^\n!-,.-~]+\\(?:loop\\|ring\\)\\|b\\(?:ack[^\n!-,.-~]+\\(?:loop[^\n!-,.-~]+\\(?:double[^\n!-,.-~]+\\(?:crochet\\|treble\\(?:[^\n!-,.-~]+crochet\\)?\\)\\|half[^\n!-,.-~]+\\(?:double[^\n!-,.-~]+crochet\\|treble\\(?:[^\n!-,.-~]+crochet\\)?\\)\\|quadruple[^\n!-,.-~]+treble\\(?:[^\n!-,.-~]+crochet\\)?\\|s\\(?:ingle[^\n!-,.-~]+crochet\\|lip[^\n!-,.-~]+stitch\\)\\|tr\\(?:eble\\(?:[^\n!-,.-~]+crochet\\)?\\|iple[^\n!-,.-~]+treble\\(?:[^\n!-,.-~]+crochet\\)?\\)\\)\\|post[^\n!-,.-~]+\\(?:d\\(?:c\\(?:2tog\\)?\\|ouble[^\n!-,.-~]+\\(?:crochet\\(?:[^\n!-,.-~]+2\\(?:[^\n!-,.-~]+\\)?together\\)?\\|treble\\(?:[^\n!-,.-~]+\\(?:2\\(?:[^\n!-,.-~]+\\)?together\\|crochet\\(?:[^\n!-,.-~]+2\\(?:[^\n!-,.-~]+\\)?together\\)?\\)\\)?\\)\\|tr\\(?:2tog\\)?\\)\\|h\\(?:alf[^\n!-,.-~]+\\(?:double[^\n!-,.-~]+crochet\\(?:[^\n!-,.-~]+2\\(?:[^\n!-,.-~]+\\)?together\\)?\\|treble\\(?:[^\n!-,.-~]+\\(?:2\\(?:[^\n!-,.-~]+\\)?together\\|crochet\\(?:[^\n!-,.-~]+2\\(?:[^\n!-,.-~]+\\)?together\\)?\\)\\)?\\)\\|dc\\(?:2tog\\)?\\|tr\\(?:2tog\\)?\\)\\|q\\(?:tr\\(?:2tog\\)?\\|uadruple[^\n!-,.-~]+treble\\(?:[^\n!-,.-~]+\\(?:2\\(?:[^\n!-,.-~]+\\)?together\\|crochet\\(?:[^\n!-,.-~]+2\\(?:[^\n!-,.-~]+\\)?together\\)?\\)\\)?\\)\\|s\\(?:c\\(?:2tog\\)?\\|ingle[^\n!-,.-~]+crochet\\(?:[^\n!-,.-~]+2\\(?:[^\n!-,.-~]+\\)?together\\)?\\|l\\(?:[^\n!-,.-~]+st\\|ip[^\n!-,.-~]+stitch\\)\\)\\|tr\\(?:2tog\\|eble\\(?:[^\n!-,.-~]+\\(?:2\\(?:[^\n!-,.-~]+\\)?together\\|crochet\\(?:[^\n!-,.-~]+2\\(?:[^\n!-,.-~]+\\)?together\\)?\\)\\)?\\|iple[^\n!-,.-~]+treble\\(?:[^\n!-,.-~]+\\(?:2\\(?:[^\n!-,.-~]+\\)?together\\|crochet\\(?:[^\n!-,.-~]+2\\(?:[^\n!-,.-~]+\\)?together\\)?\\)\\)?\\|tr\\(?:2tog\\)?\\)?\\)\\)\\|l\\(?:d\\(?:c\\|tr\\)\\|h\\(?:dc\\|tr\\)\\|qtr\\|s\\(?:c\\|l[^\n!-,.-~]+st\\)\\|tr\\(?:tr\\)?\\)\\|o\\(?:b\\(?:[^\n!-,.-~]+st\\|ble\\(?:[^\n!-,.-~]+st\\(?:itch\\)?\\)?\\)?\\)?\\|p\\(?:[^\n!-,.-~]+\\(?:d\\(?:c\\(?:2tog\\)?\\|tr\\(?:2tog\\)?\\)\\|h\\(?:dc\\(?:2tog\\)?\\|tr\\(?:2tog\\)?\\)\\|qtr\\(?:2tog\\)?\\|s\\(?:c\\(?:2tog\\)?\\|l[^\n!-,.-~]+st\\)\\|tr\\(?:2tog\\|tr\\(?:2tog\\)?\\)?\\)\\|d\\(?:c\\(?:2tog\\)?\\|tr\\(?:2tog\\)?\\)\\|h\\(?:dc\\(?:2tog\\)?\\|tr\\(?:2tog\\)?\\)\\|qtr\\(?:2tog\\)?\\|s\\(?:c\\(?:2tog\\)?\\|l[^\n!-,.-~]+st\\)\\|tr\\(?:2tog\\|tr\\(?:2tog\\)?\\)?\\)\\)\\|c\\(?:h\\(?:[^\n!-,.-~]+[2-5]\\(?:[^\n!-,.-~]+\\)?picot\\|ain\\(?:[^\n!-,.-~]+\\(?:[2-5]\\(?:[^\n!-,.-~]+\\)?picot\\|st\\(?:itch\\)?\\)\\)?\\)?\\|l\\(?:[^\n!-,.-~]+st\\|uster\\(?:[^\n!-,.-~]+st\\(?:itch\\)?\\)?\\)?\\|ross\\(?:[^\n!-,.-~]+st\\|ed[^\n!-,.-~]+\\(?:d\\(?:c\\|ouble[^\n!-,.-~]+\\(?:crochet\\|treble\\(?:[^\n!-,.-~]+crochet\\)?\\)\\|tr\\)\\|h\\(?:alf[^\n!-,.-~]+\\(?:double[^\n!-,.-~]+crochet\\|treble\\(?:[^\n!-,.-~]+crochet\\)?\\)\\|dc\\|tr\\)\\|s\\(?:[ct]\\|ingle[^\n!-,.-~]+crochet\\)\\|tr\\(?:eble\\(?:[^\n!-,.-~]+crochet\\)?\\)?\\)\\)\\)\\|d\\(?:c\\(?:[^\n!-,.-~]+\\(?:[2-5]\\(?:\\(?:[^\n!-,.-~]+\\)?tog\\(?:ether\\)?\\|tog\\)\\|cl\\(?:uster\\)?\\|dec\\(?:rease\\)?\\|inc\\(?:rease\\)?\\)\\|[2-5]tog\\(?:ether\\)?\\)?\\|ec\\(?:reas\\(?:e\\|ing\\)\\)?\\|ouble[^\n!-,.-~]+\\(?:crochet\\(?:[^\n!-,.-~]+\\(?:[2-5]\\(?:[^\n!-,.-~]+\\)?together\\|decrease\\|f\\(?:ive[^\n!-,.-~]+together\\|our[^\n!-,.-~]+together\\)\\|increase\\|t\\(?:hree[^\n!-,.-~]+together\\|wo[^\n!-,.-~]+together\\)\\)\\)?\\|treble\\(?:[^\n!-,.-~]+\\(?:[2-5]\\(?:[^\n!-,.-~]+\\)?together\\|crochet\\(?:[^\n!-,.-~]+\\(?:[2-5]\\(?:[^\n!-,.-~]+\\)?together\\|decrease\\|f\\(?:ive[^\n!-,.-~]+together\\|our[^\n!-,.-~]+together\\)\\|increase\\|t\\(?:hree[^\n!-,.-~]+together\\|wo[^\n!-,.-~]+together\\)\\)\\)?\\|decrease\\|f\\(?:ive[^\n!-,.-~]+together\\|our[^\n!-,.-~]+together\\)\\|increase\\|t\\(?:hree[^\n!-,.-~]+together\\|wo[^\n!-,.-~]+together\\)\\)\\)?\\)\\|tr\\(?:[^\n!-,.-~]+\\(?:[2-5]\\(?:\\(?:[^\n!-,.-~]+\\)?tog\\(?:ether\\)?\\|tog\\)\\|cl\\(?:uster\\)?\\|dec\\(?:rease\\)?\\|inc\\(?:rease\\)?\\)\\|[2-5]tog\\(?:ether\\)?\\)?\\)\\|e\\(?:d\\(?:c\\|tr\\)\\|h\\(?:dc\\|tr\\)\\|qtr\\|sc\\|tr\\(?:tr\\)?\\|xt\\(?:[^\n!-,.-~]+\\(?:d\\(?:c\\|tr\\)\\|h\\(?:dc\\|tr\\)\\|qtr\\|sc\\|tr\\(?:tr\\)?\\)\\|ended[^\n!-,.-~]+\\(?:d\\(?:c\\|ouble[^\n!-,.-~]+\\(?:crochet\\|treble\\(?:[^\n!-,.-~]+crochet\\)?\\)\\|tr\\)\\|h\\(?:alf[^\n!-,.-~]+\\(?:double[^\n!-,.-~]+crochet\\|treble\\(?:[^\n!-,.-~]+crochet\\)?\\)\\|dc\\|tr\\)\\|q\\(?:tr\\|uadruple[^\n!-,.-~]+treble\\(?:[^\n!-,.-~]+crochet\\)?\\)\\|s\\(?:c\\|ingle[^\n!-,.-~]+crochet\\)\\|tr\\(?:eble\\(?:[^\n!-,.-~]+crochet\\)?\\|iple[^\n!-,.-~]+treble\\(?:[^\n!-,.-~]+crochet\\)?\\|tr\\)?\\)\\)\\)\\|f\\(?:an\\(?:[^\n!-,.-~]+st\\(?:itch\\)?\\)?\\|d\\(?:c\\|tr\\)\\|h\\(?:dc\\|tr\\)\\|l\\(?:d\\(?:c\\|tr\\)\\|h\\(?:dc\\|tr\\)\\|qtr\\|s\\(?:c\\|l[^\n!-,.-~]+st\\)\\|tr\\(?:tr\\)?\\)\\|oundation[^\n!-,.-~]+\\(?:d\\(?:c\\|ouble[^\n!-,.-~]+\\(?:crochet\\|treble\\(?:[^\n!-,.-~]+crochet\\)?\\)\\|tr\\)\\|h\\(?:alf[^\n!-,.-~]+\\(?:double[^\n!-,.-~]+crochet\\|treble\\(?:[^\n!-,.-~]+crochet\\)?\\)\\|dc\\|tr\\)\\|s\\(?:c\\|ingle[^\n!-,.-~]+crochet\\)\\|tr\\(?:eble\\(?:[^\n!-,.-~]+crochet\\)?\\)?\\)\\|p\\(?:[^\n!-,.-~]+\\(?:d\\(?:c\\(?:2tog\\)?\\|tr\\(?:2tog\\)?\\)\\|h\\(?:dc\\(?:2tog\\)?\\|tr\\(?:2tog\\)?\\)\\|qtr\\(?:2tog\\)?\\|s\\(?:c\\(?:2tog\\)?\\|l[^\n!-,.-~]+st\\)\\|tr\\(?:2tog\\|tr\\(?:2tog\\)?\\)?\\)\\|d\\(?:c\\(?:2tog\\)?\\|tr\\(?:2tog\\)?\\)\\|h\\(?:dc\\(?:2tog\\)?\\|tr\\(?:2tog\\)?\\)\\|qtr\\(?:2tog\\)?\\|s\\(?:c\\(?:2tog\\)?\\|l[^\n!-,.-~]+st\\)\\|tr\\(?:2tog\\|tr\\(?:2tog\\)?\\)?\\)\\|ront[^\n!-,.-~]+\\(?:loop[^\n!-,.-~]+\\(?:double[^\n!-,.-~]+\\(?:crochet\\|treble\\(?:[^\n!-,.-~]+crochet\\)?\\)\\|half[^\n!-,.-~]+\\(?:double[^\n!-,.-~]+crochet\\|treble\\(?:[^\n!-,.-~]+crochet\\)?\\)\\|quadruple[^\n!-,.-~]+treble\\(?:[^\n!-,.-~]+crochet\\)?\\|s\\(?:ingle[^\n!-,.-~]+crochet\\|lip[^\n!-,.-~]+stitch\\)\\|tr\\(?:eble\\(?:[^\n!-,.-~]+crochet\\)?\\|iple[^\n!-,.-~]+treble\\(?:[^\n!-,.-~]+crochet\\)?\\)\\)\\|post[^\n!-,.-~]+\\(?:d\\(?:c\\(?:2tog\\)?\\|ouble[^\n!-,.-~]+\\(?:crochet\\(?:[^\n!-,.-~]+2\\(?:[^\n!-,.-~]+\\)?together\\)?\\|treble\\(?:[^\n!-,.-~]+\\(?:2\\(?:[^\n!-,.-~]+\\)?together\\|crochet\\(?:[^\n!-,.-~]+2\\(?:[^\n!-,.-~]+\\)?together\\)?\\)\\)?\\)\\|tr\\(?:2tog\\)?\\)\\|h\\(?:alf[^\n!-,.-~]+\\(?:double[^\n!-,.-~]+crochet\\(?:[^\n!-,.-~]+2\\(?:[^\n!-,.-~]+\\)?together\\)?\\|treble\\(?:[^\n!-,.-~]+\\(?:2\\(?:[^\n!-,.-~]+\\)?together\\|crochet\\(?:[^\n!-,.-~]+2\\(?:[^\n!-,.-~]+\\)?together\\)?\\)\\)?\\)\\|dc\\(?:2tog\\)?\\|tr\\(?:2tog\\)?\\)\\|q\\(?:tr\\(?:2tog\\)?\\|uadruple[^\n!-,.-~]+treble\\(?:[^\n!-,.-~]+\\(?:2\\(?:[^\n!-,.-~]+\\)?together\\|crochet\\(?:[^\n!-,.-~]+2\\(?:[^\n!-,.-~]+\\)?together\\)?\\)\\)?\\)\\|s\\(?:c\\(?:2tog\\)?\\|ingle[^\n!-,.-~]+crochet\\(?:[^\n!-,.-~]+2\\(?:[^\n!-,.-~]+\\)?together\\)?\\|l\\(?:[^\n!-,.-~]+st\\|ip[^\n!-,.-~]+stitch\\)\\)\\|tr\\(?:2tog\\|eble\\(?:[^\n!-,.-~]+\\(?:2\\(?:[^\n!-,.-~]+\\)?together\\|crochet\\(?:[^\n!-,.-~]+2\\(?:[^\n!-,.-~]+\\)?together\\)?\\)\\)?\\|iple[^\n!-,.-~]+treble\\(?:[^\n!-,.-~]+\\(?:2\\(?:[^\n!-,.-~]+\\)?together\\|crochet\\(?:[^\n!-,.-~]+2\\(?:[^\n!-,.-~]+\\)?together\\)?\\)\\)?\\|tr\\(?:2tog\\)?\\)?\\)\\)\\|sc\\|tr\\)\\|h\\(?:alf[^\n!-,.-~]+\\(?:d\\(?:c\\|ouble\\(?:[^\n!-,.-~]+crochet\\(?:[^\n!-,.-~]+\\(?:[2-5]\\(?:[^\n!-,.-~]+\\)?together\\|decrease\\|f\\(?:ive[^\n!-,.-~]+together\\|our[^\n!-,.-~]+together\\)\\|increase\\|t\\(?:hree[^\n!-,.-~]+together\\|wo[^\n!-,.-~]+together\\)\\)\\)?\\)?\\)\\|tr\\(?:eble\\(?:[^\n!-,.-~]+\\(?:[2-5]\\(?:[^\n!-,.-~]+\\)?together\\|crochet\\(?:[^\n!-,.-~]+\\(?:[2-5]\\(?:[^\n!-,.-~]+\\)?together\\|decrease\\|f\\(?:ive[^\n!-,.-~]+together\\|our[^\n!-,.-~]+together\\)\\|increase\\|t\\(?:hree[^\n!-,.-~]+together\\|wo[^\n!-,.-~]+together\\)\\)\\)?\\|decrease\\|f\\(?:ive[^\n!-,.-~]+together\\|our[^\n!-,.-~]+together\\)\\|increase\\|t\\(?:hree[^\n!-,.-~]+together\\|wo[^\n!-,.-~]+together\\)\\)\\)?\\)?\\)\\|dc\\(?:[^\n!-,.-~]+\\(?:[2-5]\\(?:\\(?:[^\n!-,.-~]+\\)?tog\\(?:ether\\)?\\|tog\\)\\|cl\\(?:uster\\)?\\|dec\\(?:rease\\)?\\|inc\\(?:rease\\)?\\)\\|[2-5]tog\\(?:ether\\)?\\)?\\|tr\\(?:[^\n!-,.-~]+\\(?:[2-5]\\(?:\\(?:[^\n!-,.-~]+\\)?tog\\(?:ether\\)?\\|tog\\)\\|cl\\(?:uster\\)?\\|dec\\(?:rease\\)?\\|inc\\(?:rease\\)?\\)\\|[2-5]tog\\(?:ether\\)?\\)?\\)\\|in\\(?:c\\(?:reas\\(?:e\\|ing\\)\\)?\\|v\\(?:[^\n!-,.-~]+\\(?:dec\\(?:rease\\)?\\|inc\\)\\|dec\\|i\\(?:nc\\|sible[^\n!-,.-~]+\\(?:dec\\(?:rease\\)?\\|inc\\(?:rease\\)?\\)\\)\\)\\)\\|long[^\n!-,.-~]+\\(?:d\\(?:c\\|ouble[^\n!-,.-~]+crochet\\)\\|h\\(?:alf[^\n!-,.-~]+\\(?:double[^\n!-,.-~]+crochet\\|treble\\(?:[^\n!-,.-~]+crochet\\)?\\)\\|dc\\|tr\\)\\|s\\(?:c\\|ingle[^\n!-,.-~]+crochet\\)\\|tr\\(?:eble\\(?:[^\n!-,.-~]+crochet\\)?\\)?\\)\\|m\\(?:agic[^\n!-,.-~]+\\(?:circle\\|loop\\|ring\\)\\|r\\)\\|p\\(?:c\\(?:[^\n!-,.-~]+st\\)?\\|icot\\(?:[^\n!-,.-~]+st\\(?:itch\\)?\\)?\\|op\\(?:[^\n!-,.-~]+st\\|corn\\(?:[^\n!-,.-~]+st\\(?:itch\\)?\\)?\\)?\\|s\\|uff\\(?:[^\n!-,.-~]+st\\(?:itch\\)?\\)?\\)\\|q\\(?:tr\\(?:[^\n!-,.-~]+\\(?:[2-5]\\(?:\\(?:[^\n!-,.-~]+\\)?tog\\(?:ether\\)?\\|tog\\)\\|dec\\(?:rease\\)?\\|inc\\(?:rease\\)?\\)\\|[2-5]tog\\(?:ether\\)?\\)?\\|uad\\(?:[^\n!-,.-~]+tr\\(?:eble\\)?\\|ruple[^\n!-,.-~]+treble\\(?:[^\n!-,.-~]+\\(?:[2-5]\\(?:[^\n!-,.-~]+\\)?together\\|crochet\\(?:[^\n!-,.-~]+\\(?:[2-5]\\(?:[^\n!-,.-~]+\\)?together\\|decrease\\|f\\(?:ive[^\n!-,.-~]+together\\|our[^\n!-,.-~]+together\\)\\|increase\\|t\\(?:hree[^\n!-,.-~]+together\\|wo[^\n!-,.-~]+together\\)\\)\\)?\\|decrease\\|f\\(?:ive[^\n!-,.-~]+together\\|our[^\n!-,.-~]+together\\)\\|increase\\|t\\(?:hree[^\n!-,.-~]+together\\|wo[^\n!-,.-~]+together\\)\\)\\)?\\|tr\\)\\)\\|raised[^\n!-,.-~]+\\(?:double[^\n!-,.-~]+\\(?:crochet[^\n!-,.-~]+\\(?:back\\|front\\)\\|treble[^\n!-,.-~]+\\(?:back\\|crochet[^\n!-,.-~]+\\(?:back\\|front\\)\\|front\\)\\)\\|half[^\n!-,.-~]+treble[^\n!-,.-~]+\\(?:back\\|crochet[^\n!-,.-~]+\\(?:back\\|front\\)\\|front\\)\\|quadruple[^\n!-,.-~]+treble[^\n!-,.-~]+\\(?:back\\|crochet[^\n!-,.-~]+\\(?:back\\|front\\)\\|front\\)\\|slip[^\n!-,.-~]+stitch[^\n!-,.-~]+\\(?:back\\|front\\)\\|tr\\(?:eble[^\n!-,.-~]+\\(?:back\\|crochet[^\n!-,.-~]+\\(?:back\\|front\\)\\|front\\)\\|iple[^\n!-,.-~]+treble[^\n!-,.-~]+\\(?:back\\|crochet[^\n!-,.-~]+\\(?:back\\|front\\)\\|front\\)\\)\\)\\|s\\(?:c\\(?:[^\n!-,.-~]+\\(?:[2-5]\\(?:\\(?:[^\n!-,.-~]+\\)?tog\\(?:ether\\)?\\|tog\\)\\|dec\\(?:rease\\)?\\|inc\\(?:rease\\)?\\)\\|[2-5]tog\\(?:ether\\)?\\)?\\|h\\(?:ell\\(?:[^\n!-,.-~]+st\\(?:itch\\)?\\)?\\)?\\|ingle[^\n!-,.-~]+crochet\\(?:[^\n!-,.-~]+\\(?:[2-5]\\(?:[^\n!-,.-~]+\\)?together\\|decrease\\|f\\(?:ive[^\n!-,.-~]+together\\|our[^\n!-,.-~]+together\\)\\|increase\\|t\\(?:hree[^\n!-,.-~]+together\\|wo[^\n!-,.-~]+together\\)\\)\\)?\\|l\\(?:[^\n!-,.-~]+st\\(?:[^\n!-,.-~]+\\(?:2\\(?:\\(?:[^\n!-,.-~]+\\)?tog\\(?:ether\\)?\\|tog\\)\\|dec\\(?:rease\\)?\\|inc\\(?:rease\\)?\\)\\|2tog\\(?:ether\\)?\\|itch\\)?\\|i\\(?:ding[^\n!-,.-~]+loop\\|p[^\n!-,.-~]+st\\(?:itch\\(?:[^\n!-,.-~]+\\(?:2\\(?:[^\n!-,.-~]+\\)?together\\|decrease\\|increase\\|two[^\n!-,.-~]+together\\)\\)?\\)?\\)\\|st\\)\\|pike\\(?:[^\n!-,.-~]+\\(?:d\\(?:c\\|ouble[^\n!-,.-~]+crochet\\)\\|h\\(?:alf[^\n!-,.-~]+\\(?:double[^\n!-,.-~]+crochet\\|treble\\(?:[^\n!-,.-~]+crochet\\)?\\)\\|dc\\|tr\\)\\|s\\(?:c\\|ingle[^\n!-,.-~]+crochet\\|t\\(?:itch\\)?\\)\\|tr\\(?:eble\\(?:[^\n!-,.-~]+crochet\\)?\\)?\\)\\)?\\|s\\)\\|t\\(?:r\\(?:[^\n!-,.-~]+\\(?:[2-5]\\(?:\\(?:[^\n!-,.-~]+\\)?tog\\(?:ether\\)?\\|tog\\)\\|cl\\(?:uster\\)?\\|dec\\(?:rease\\)?\\|inc\\(?:rease\\)?\\|tr\\)\\|[2-5]tog\\(?:ether\\)?\\|c\\|eble\\(?:[^\n!-,.-~]+\\(?:[2-5]\\(?:[^\n!-,.-~]+\\)?together\\|crochet\\(?:[^\n!-,.-~]+\\(?:[2-5]\\(?:[^\n!-,.-~]+\\)?together\\|decrease\\|f\\(?:ive[^\n!-,.-~]+together\\|our[^\n!-,.-~]+together\\)\\|increase\\|t\\(?:hree[^\n!-,.-~]+together\\|wo[^\n!-,.-~]+together\\)\\)\\)?\\|decrease\\|f\\(?:ive[^\n!-,.-~]+together\\|our[^\n!-,.-~]+together\\)\\|increase\\|t\\(?:hree[^\n!-,.-~]+together\\|wo[^\n!-,.-~]+together\\)\\)\\)?\\|iple[^\n!-,.-~]+\\(?:crochet\\|treble\\(?:[^\n!-,.-~]+\\(?:[2-5]\\(?:[^\n!-,.-~]+\\)?together\\|crochet\\(?:[^\n!-,.-~]+\\(?:[2-5]\\(?:[^\n!-,.-~]+\\)?together\\|decrease\\|f\\(?:ive[^\n!-,.-~]+together\\|our[^\n!-,.-~]+together\\)\\|increase\\|t\\(?:hree[^\n!-,.-~]+together\\|wo[^\n!-,.-~]+together\\)\\)\\)?\\|decrease\\|f\\(?:ive[^\n!-,.-~]+together\\|our[^\n!-,.-~]+together\\)\\|increase\\|t\\(?:hree[^\n!-,.-~]+together\\|wo[^\n!-,.-~]+together\\)\\)\\)?\\)\\|tr\\(?:[^\n!-,.-~]+\\(?:[2-5]\\(?:\\(?:[^\n!-,.-~]+\\)?tog\\(?:ether\\)?\\|tog\\)\\|dec\\(?:rease\\)?\\|inc\\(?:rease\\)?\\)\\|[2-5]tog\\(?:ether\\)?\\)?\\)?\\|tr\\)\\|v\\(?:[^\n!-,.-~]+st\\(?:itch\\)?\\|st\\)\\|x[^\n!-,.-~]+st\\)\\(?:\\(?:[^\n!-,.-~]+\\)?[0-9]+\\(?:[^\n!-,.-~]+\\)?tog\\(?:ether\\)?\\|e?s\\)?\\)\\(?:\\>\\|[0-9]+\\>\\)" (1 . font-lock-function-name-face))
    ((Round) nil nil "\\(?:\\<\\|[0-9]\\)\\([0-9]+\\)\\(?:[^]\n()[{}]\\{0,200\\}[])}][\t  ]*\\(?:$\\|//\\|;\\|\\.[\t  ]*\\(?:$\\|//\\)\\|,?[\t  ]*\\(?:\\(?:and\\|then\\)[\t  ]+\\)?\\(?:chang\\(?:e\\(?:[\t  ]+\\|[‐-—−-]\\)\\(?:colo\\(?:r\\(?:[\t  ]+\\|[‐-—−-]\\)to\\(?:es\\|s\\)?\\|ur\\(?:[\t  ]+\\|[‐-—−-]\\)to\\(?:es\\|s\\)?\\)\\|to\\(?:es\\|s\\)?\\)\\|ing\\(?:[\t  ]+\\|[‐-—−-]\\)to\\(?:es\\|s\\)?\\)\\|do\\(?:\\(?:[\t  ]+\\|[‐-—−-]\\)not\\(?:es\\|s\\)?\\|n['’]t\\)\\|f\\(?:asten\\(?:[\t  ]+\\|[‐-—−-]\\)off\\(?:es\\|s\\)?\\|inish\\(?:[\t  ]+\\|[‐-—−-]\\)off\\(?:es\\|s\\)?\\)\\|join\\(?:ing\\)?\\|p\\(?:lace\\(?:[\t  ]+\\|[‐-—−-]\\)\\(?:a\\(?:[\t  ]+\\|[‐-—−-]\\)marker\\(?:es\\|s\\)?\\|marker\\(?:es\\|s\\)?\\|stitch\\(?:[\t  ]+\\|[‐-—−-]\\)marker\\(?:es\\|s\\)?\\)\\|m\\)\\|s\\(?:l\\(?:[\t  ]+\\|[‐-—−-]\\)st\\|witch\\(?:[\t  ]+\\|[‐-—−-]\\)to\\(?:es\\|s\\)?\\)\\|turn\\|without\\|ch[\t  ]+[0-9]+,?[\t  ]+turn\\)\\)\\)" (1 . font-lock-warning-face))
    ((Round) nil nil "\\(=\\)\\([\t  ]+\\)\\([0-9]+\\)\\(?:\\(?:[\t  ]+st\\(?:i\\(?:ches\\|tch\\(?:es\\)?\\)\\|s\\)?\\)?[\t  ]*\\.?[\t  ]*\\(?:$\\|//\\)\\)" (1 . font-lock-builtin-face) (2 . default) (3 . font-lock-warning-face))
    ((Round) nil nil "\\(=\\)\\([0-9]+\\)\\(?:\\(?:[\t  ]+st\\(?:i\\(?:ches\\|tch\\(?:es\\)?\\)\\|s\\)?\\)?[\t  ]*\\.?[\t  ]*\\(?:$\\|//\\)\\)" (1 . font-lock-builtin-face) (2 . font-lock-warning-face))
    ((Round) nil nil "\\([–—-]\\)\\([\t  ]+\\)\\([0-9]+\\)\\(?:\\(?:[\t  ]+st\\(?:i\\(?:ches\\|tch\\(?:es\\)?\\)\\|s\\)?\\)?[\t  ]*\\.?[\t  ]*\\(?:$\\|//\\)\\)" (1 . font-lock-builtin-face) (2 . default) (3 . font-lock-warning-face))
    ((Round) nil nil "\\(\\.\\)\\([\t  ]+\\)\\([0-9]+\\)\\(?:[\t  ]+st\\(?:i\\(?:ches\\|tch\\(?:es\\)?\\)\\|s\\)?[\t  ]*\\.?[\t  ]*\\(?:$\\|//\\)\\)" (1 . default) (2 . default) (3 . font-lock-warning-face))
    ((Measure Stitch Piece With Round Sewn Placed Action) nil nil "\\(?:\\<\\|[0-9]\\)\\(all[^\n!-,.-~]+\\(?:a\\(?:cross\\(?:es\\|s\\)?\\|round\\(?:es\\|s\\)?\\)\\|the[^\n!-,.-~]+way[^\n!-,.-~]+around\\(?:es\\|s\\)?\\|way[^\n!-,.-~]+around\\(?:es\\|s\\)?\\)\\|e\\(?:nd\\(?:[^\n!-,.-~]+last[^\n!-,.-~]+rep\\(?:[^\n!-,.-~]+at\\(?:es\\|s\\)?\\|eat[^\n!-,.-~]+at\\(?:es\\|s\\)?\\)\\|ing[^\n!-,.-~]+\\(?:at\\(?:es\\|s\\)?\\|final[^\n!-,.-~]+rep[^\n!-,.-~]+at\\(?:es\\|s\\)?\\|last[^\n!-,.-~]+rep\\(?:[^\n!-,.-~]+at\\(?:es\\|s\\)?\\|e\\(?:at[^\n!-,.-~]+at\\(?:es\\|s\\)?\\|s\\)\\|s\\)?\\)\\)\\|venly[^\n!-,.-~]+spaced\\(?:es\\|s\\)?\\)\\|here[^\n!-,.-~]+and[^\n!-,.-~]+\\(?:on\\(?:es\\|s\\)?\\|throughout\\(?:es\\|s\\)?\\)\\|now[^\n!-,.-~]+and[^\n!-,.-~]+throughout\\(?:es\\|s\\)?\\|round[^\n!-,.-~]+and[^\n!-,.-~]+round\\(?:es\\|s\\)?\\|spaced[^\n!-,.-~]+evenly\\(?:es\\|s\\)?\\|to[^\n!-,.-~]+end[^\n!-,.-~]+of[^\n!-,.-~]+r\\(?:nd\\(?:es\\|s\\)?\\|o\\(?:und\\(?:es\\|s\\)?\\|w\\(?:es\\|s\\)?\\)\\)\\)\\(?:\\>\\|[0-9]+\\>\\)" (1 . font-lock-builtin-face))
    ((Measure Stitch Piece With Round Sewn Placed Action) nil nil "\\(?:\\<\\|[0-9]\\)\\(chang\\(?:e[^\n!-,.-~]+\\(?:colo\\(?:r[^\n!-,.-~]+to\\(?:es\\|s\\)?\\|ur[^\n!-,.-~]+to\\(?:es\\|s\\)?\\)\\|to\\(?:es\\|s\\)?\\)\\|ing[^\n!-,.-~]+to\\(?:es\\|s\\)?\\)\\|f\\(?:asten[^\n!-,.-~]+off\\(?:es\\|s\\)?\\|inish[^\n!-,.-~]+off\\(?:es\\|s\\)?\\)\\|move[^\n!-,.-~]+marker\\(?:[^\n!-,.-~]+up\\(?:es\\|s\\)?\\|es\\|s\\)?\\|place[^\n!-,.-~]+\\(?:a[^\n!-,.-~]+marker\\(?:es\\|s\\)?\\|marker\\(?:es\\|s\\)?\\|stitch[^\n!-,.-~]+marker\\(?:es\\|s\\)?\\)\\|s\\(?:l\\(?:[^\n!-,.-~]+m\\(?:es\\|s\\)?\\|ip[^\n!-,.-~]+marker\\(?:es\\|s\\)?\\)\\|witch[^\n!-,.-~]+to\\(?:es\\|s\\)?\\)\\)\\(?:\\>\\|[0-9]+\\>\\)" (1 . font-lock-keyword-face))
    ((Measure Stitch Piece With Round Sewn Placed Action) nil nil "\\(?:\\<\\|[0-9]\\)\\(at[^\n!-,.-~]+base[^\n!-,.-~]+of\\(?:es\\|s\\)?\\|b\\(?:a\\(?:ck[^\n!-,.-~]+\\(?:[bh]ump\\(?:es\\|s\\(?:es\\|s\\)?\\)?\\|free[^\n!-,.-~]+loops\\(?:es\\|s\\)?\\|l\\(?:oop\\(?:[^\n!-,.-~]+only\\(?:es\\|s\\)?\\|es\\|s\\(?:[^\n!-,.-~]+only\\(?:es\\|s\\)?\\|es\\|s\\)?\\)?\\|p\\(?:[^\n!-,.-~]+only\\(?:es\\|s\\)?\\|es\\|s\\(?:[^\n!-,.-~]+only\\(?:es\\|s\\)?\\|es\\|s\\)?\\)?\\)\\|ridge\\(?:es\\|s\\)?\\)\\|se[^\n!-,.-~]+of\\(?:es\\|s\\)?\\)\\|eg\\(?:[^\n!-,.-~]+ch\\(?:es\\|s\\)?\\|inning[^\n!-,.-~]+ch\\(?:ain\\(?:es\\|s\\)?\\|es\\|s\\)?\\)\\|oth[^\n!-,.-~]+l\\(?:oops\\(?:es\\|s\\)?\\|ps\\(?:es\\|s\\)?\\)\\)\\|cent\\(?:er[^\n!-,.-~]+ring\\(?:es\\|s\\)?\\|re[^\n!-,.-~]+ring\\(?:es\\|s\\)?\\)\\|do\\(?:[^\n!-,.-~]+not\\(?:[^\n!-,.-~]+count\\(?:es\\|s\\)?\\|es\\|s\\)?\\|es\\(?:[^\n!-,.-~]+not[^\n!-,.-~]+count\\(?:es\\|s\\)?\\|n['’]t[^\n!-,.-~]+count\\(?:es\\|s\\)?\\)\\|n['’]t[^\n!-,.-~]+count\\(?:es\\|s\\)?\\)\\|end\\(?:[^\n!-,.-~]+\\(?:of[^\n!-,.-~]+each[^\n!-,.-~]+row\\(?:es\\|s\\)?\\|with\\(?:es\\|s\\)?\\)\\|ing[^\n!-,.-~]+with\\(?:es\\|s\\)?\\|s[^\n!-,.-~]+with\\(?:es\\|s\\)?\\)\\|f\\(?:orm[^\n!-,.-~]+\\(?:a[^\n!-,.-~]+ring\\(?:es\\|s\\)?\\|ring\\(?:es\\|s\\)?\\)\\|r\\(?:ee[^\n!-,.-~]+\\(?:back[^\n!-,.-~]+loop\\(?:es\\|s\\(?:es\\|s\\)?\\)?\\|front[^\n!-,.-~]+loop\\(?:es\\|s\\(?:es\\|s\\)?\\)?\\|l\\(?:oop\\(?:es\\|s\\(?:es\\|s\\)?\\)?\\|ps\\(?:es\\|s\\)?\\)\\)\\|ont[^\n!-,.-~]+\\(?:free[^\n!-,.-~]+loops\\(?:es\\|s\\)?\\|l\\(?:oop\\(?:[^\n!-,.-~]+only\\(?:es\\|s\\)?\\|es\\|s\\(?:[^\n!-,.-~]+only\\(?:es\\|s\\)?\\|es\\|s\\)?\\)?\\|p\\(?:[^\n!-,.-~]+only\\(?:es\\|s\\)?\\|es\\|s\\(?:[^\n!-,.-~]+only\\(?:es\\|s\\)?\\|es\\|s\\)?\\)?\\)\\)\\)\\)\\|in[^\n!-,.-~]+total\\(?:es\\|s\\)?\\|loop[^\n!-,.-~]+ring\\(?:es\\|s\\)?\\|make[^\n!-,.-~]+a[^\n!-,.-~]+ring\\(?:es\\|s\\)?\\|n\\(?:ew[^\n!-,.-~]+\\(?:colo\\(?:r\\(?:es\\|s\\)?\\|ur\\(?:es\\|s\\)?\\)\\|yarn\\(?:es\\|s\\)?\\)\\|ot[^\n!-,.-~]+count\\(?:ed\\(?:es\\|s\\)?\\|ing\\(?:es\\|s\\)?\\)\\)\\|o\\(?:pposite[^\n!-,.-~]+side\\(?:es\\|s\\)?\\|ther[^\n!-,.-~]+\\(?:edge\\(?:es\\|s\\)?\\|side\\(?:es\\|s\\)?\\)\\)\\|r\\(?:e\\(?:maining[^\n!-,.-~]+\\(?:back[^\n!-,.-~]+loops\\(?:es\\|s\\)?\\|front[^\n!-,.-~]+loops\\(?:es\\|s\\)?\\|loops\\(?:es\\|s\\)?\\)\\|st[^\n!-,.-~]+of\\(?:es\\|s\\)?\\)\\|ow[^\n!-,.-~]+e\\(?:dge\\(?:es\\|s\\(?:es\\|s\\)?\\)?\\|nd\\(?:es\\|s\\(?:es\\|s\\)?\\)?\\)\\)\\|s\\(?:econd[^\n!-,.-~]+side\\(?:es\\|s\\)?\\|ide[^\n!-,.-~]+of[^\n!-,.-~]+row\\(?:es\\|s\\(?:es\\|s\\)?\\)?\\|t\\(?:[^\n!-,.-~]+at[^\n!-,.-~]+base[^\n!-,.-~]+of\\(?:es\\|s\\)?\\|art\\(?:[^\n!-,.-~]+ch\\(?:es\\|s\\)?\\|ing[^\n!-,.-~]+ch\\(?:ain\\(?:es\\|s\\)?\\|es\\|s\\)?\\)\\|itch[^\n!-,.-~]+at[^\n!-,.-~]+base[^\n!-,.-~]+of\\(?:es\\|s\\)?\\)\\)\\|t\\(?:[^\n!-,.-~]+ch\\(?:es\\|s\\)?\\|hrough[^\n!-,.-~]+\\(?:back[^\n!-,.-~]+loop\\(?:es\\|s\\(?:[^\n!-,.-~]+only\\(?:es\\|s\\)?\\|es\\|s\\)?\\)?\\|front[^\n!-,.-~]+loop\\(?:es\\|s\\(?:es\\|s\\)?\\)?\\)\\|otal[^\n!-,.-~]+of\\(?:es\\|s\\)?\\|urning[^\n!-,.-~]+ch\\(?:ain\\(?:es\\|s\\)?\\|es\\|s\\(?:es\\|s\\)?\\)?\\)\\|un\\(?:used[^\n!-,.-~]+\\(?:back[^\n!-,.-~]+loop\\(?:es\\|s\\(?:es\\|s\\)?\\)?\\|front[^\n!-,.-~]+loop\\(?:es\\|s\\(?:es\\|s\\)?\\)?\\|loop\\(?:es\\|s\\(?:es\\|s\\)?\\)?\\)\\|worked[^\n!-,.-~]+\\(?:back[^\n!-,.-~]+loops\\(?:es\\|s\\)?\\|front[^\n!-,.-~]+loops\\(?:es\\|s\\)?\\|loop\\(?:es\\|s\\(?:es\\|s\\)?\\)?\\)\\)\\)\\(?:\\>\\|[0-9]+\\>\\)" (1 . font-lock-builtin-face))
    ((Measure Stitch Piece With Round Sewn Placed Action) nil nil "\\(?:\\<\\|[0-9]\\)\\(a\\(?:cross\\|round\\)\\|evenly\\|more\\|rep\\(?:eat\\(?:ing\\)?\\|s\\)?\\|t\\(?:hroughout\\|imes?\\)\\|until\\|x\\)\\(?:\\>\\|[0-9]+\\>\\)" (1 . font-lock-builtin-face))
    ((Measure Stitch Piece With Round Sewn Placed Action) nil nil "\\(?:\\<\\|[0-9]\\)\\(join\\(?:ing\\)?\\|[ps]m\\|turn\\)\\(?:\\>\\|[0-9]+\\>\\)" (1 . font-lock-keyword-face))
    ((Measure Stitch Piece With Round Sewn Placed Action) nil nil "\\(?:\\<\\|[0-9]\\)\\(1st\\|a\\(?:l\\(?:l\\|ong\\|together\\)\\|n[dy]\\|s\\)\\|b\\(?:e\\(?:g\\(?:in\\(?:ning\\)?\\)?\\|low\\|tween\\)\\|lo?\\|oth\\|umps?\\)\\|co\\(?:lo\\(?:r\\|ur\\)\\|unt\\(?:ed\\|ing\\|s\\)?\\)\\|do\\(?:n['’]t\\|wn\\)\\|e\\(?:ach\\|nd\\|ve\\(?:n\\|ry\\)\\)\\|f\\(?:irst\\|lo?\\|oll\\(?:owing\\)?\\|rom\\)\\|hook\\|in\\(?:side\\|to\\)?\\|l\\(?:ast\\|eav\\(?:e\\|ing\\)\\|oops?\\|ps?\\)\\|m\\(?:akes?\\|iss\\(?:ed\\)?\\)\\|n\\(?:ext\\|xt\\)\\|o\\(?:f\\|n\\(?:to\\)?\\|ver\\)\\|posts?\\|r\\(?:e\\(?:m\\(?:aining\\)?\\|st\\)\\|ing\\|nds?\\|o\\(?:unds?\\|ws?\\)\\)\\|s\\(?:ame\\|k\\(?:ip\\(?:ped\\)?\\)?\\|p\\(?:aces?\\|s\\)?\\|t\\(?:art\\|i\\(?:ches\\|tch\\(?:es\\)?\\)\\|s\\)?\\)\\|t\\(?:akes\\|[bf]l\\|ch\\|hen\\|o\\(?:g\\(?:ether\\)?\\|ps?\\|tal\\)?\\)\\|u\\(?:nworked\\|sing\\)\\|w\\(?:ith\\(?:in\\|out\\)?\\|ork\\(?:ed\\|ing\\)?\\)\\|yarn\\)\\(?:\\>\\|[0-9]+\\>\\)" (1 . font-lock-builtin-face))
    ((Measure Stitch Piece With Round Sewn Placed Action) nil nil "\\([×✕✖]\\)" (1 . font-lock-builtin-face))
    ((Measure Stitch Piece With Round Sewn Placed Action) nil nil "\\(\\*\\*?\\|[=∗]\\)" (1 . font-lock-builtin-face))
    ((Measure Stitch Piece With Round Sewn Placed Action) nil nil "\\([]()[{}]\\)" (1 . default))
    ((Measure Yarn Notion Stitch With Round Sewn Placed Action) nil nil "\\([0-9]+\\(?:\\.[0-9]+\\)?\\)\\([\t  ]+\\)\\(balls?\\|cm\\|g\\(?:rams?\\)?\\|hanks?\\|inch\\(?:es\\)?\\|m\\(?:et\\(?:ers?\\|res?\\)\\|m\\)?\\|o\\(?:unces\\|z\\)\\|skeins?\\|y\\(?:ards?\\|ds?\\)\\)\\>" (1 . font-lock-constant-face) (2 . default) (3 . font-lock-type-face))
    ((Measure Yarn Notion Stitch With Round Sewn Placed Action) nil nil "\\([0-9]+\\(?:\\.[0-9]+\\)?\\)\\(balls?\\|cm\\|g\\(?:rams?\\)?\\|hanks?\\|inch\\(?:es\\)?\\|m\\(?:et\\(?:ers?\\|res?\\)\\|m\\)?\\|o\\(?:unces\\|z\\)\\|skeins?\\|y\\(?:ards?\\|ds?\\)\\)\\>" (1 . font-lock-constant-face) (2 . font-lock-type-face))
    ((With) nil nil "\\(?:\\<\\|[0-9]\\)\\([[:alpha:]]['0-9’[:alpha:]]*\\)" (1 . font-lock-variable-name-face))
    ((Yarn) nil nil "\\(?:\\<\\|[0-9]\\)\\([[:alpha:]][^\n#(,/;]*?\\)\\(?:[\t  ]*\\(?:[#(,;]\\|$\\|//\\)\\)" (1 . font-lock-string-face))
    ((Measure Yarn Notion Stitch Piece With Round Sewn Placed Action) nil nil "\\(?:\\<\\|[0-9]\\)\\(e\\(?:ighth?\\|leven\\(?:th\\)?\\)\\|f\\(?:i\\(?:fth\\|ve\\)\\|our\\(?:th\\)?\\)\\|nin\\(?:e\\|th\\)\\|on\\(?:ce\\|e\\)\\|s\\(?:e\\(?:cond\\|ven\\(?:th\\)?\\)\\|ix\\(?:th\\)?\\)\\|t\\(?:en\\(?:th\\)?\\|h\\(?:ird\\|r\\(?:ee\\|ice\\)\\)\\|w\\(?:el\\(?:fth\\|ve\\)\\|ice\\|o\\)\\)\\)\\>" (1 . font-lock-constant-face))
    ((Measure Yarn Notion Stitch Piece With Round Sewn Placed Action) nil nil "\\<\\([[:alpha:]]['0-9’[:alpha:]]*\\)" (1 . default))
    ((Measure Yarn Notion Stitch Piece With Round Sewn Placed Action) nil nil "\\([0-9]+\\(?:st\\|nd\\|rd\\|th\\)\\)\\>" (1 . font-lock-constant-face))
    ((Measure Yarn Notion Stitch Piece With Round Sewn Placed Action) nil nil "\\([0-9]+\\(?:\\.[0-9]+\\)?\\)" (1 . font-lock-constant-face)))
  "The rules in the order in which they are tried.
Each is (KINDS LEAD EXACT REGEXP (GROUP . FACE)...).  A rule that
leads holds right behind the head only; an exact one tells capitals
from small letters.")

(defun crochet-keywords--continues-p ()
  "Say whether the line at point continues the one above."
  (and (not (bobp))
       (looking-at-p "[ \t]+[^ \t\n\r]")
       (save-excursion
         (forward-line -1)
         (and (looking-at-p "[ \t]*[^ \t\n\r]")
              (or (not (looking-at-p "[ \t]*//"))
                  (crochet-keywords--continues-p))))))

(defun crochet-keywords--beginning ()
  "Go to the beginning of the statement at point."
  (forward-line 0)
  (while (crochet-keywords--continues-p)
    (forward-line -1)))

(defun crochet-keywords--statement (position)
  "Say what the statement at POSITION is: its head's entry and the head's end."
  (save-excursion
    (save-match-data
      (goto-char position)
      (crochet-keywords--beginning)
      (let ((case-fold-search t) (heads crochet-keywords-heads) found)
        (while (and heads (not found))
          (when (looking-at (nth 1 (car heads)))
            (setq found (list (car heads) (match-end 0))))
          (setq heads (cdr heads)))
        found))))

(defun crochet-keywords--find (rule limit)
  "Find the next match of RULE up to LIMIT in a statement that it is for."
  (let ((case-fold-search (not (nth 2 rule))) found)
    (while (and (not found) (re-search-forward (nth 3 rule) limit t))
      (let* ((start (match-beginning 1))
             (statement (crochet-keywords--statement start)))
        (cond
         ((not (memq (caar statement) (car rule)))
          (forward-line 1))
         ((< start (nth 1 statement))
          (goto-char (nth 1 statement)))
         (t
          (setq found t)
          ;; What lies ahead of the groups is free for the next match.
          (goto-char (match-end (- (length rule) 4)))))
        (goto-char (min (point) limit))))
    found))

(defun crochet-keywords--find-lead (rule limit)
  "Find the next match of RULE up to LIMIT right behind the head of a statement."
  (let ((case-fold-search (not (nth 2 rule))) found)
    (while (and (not found) (< (point) limit))
      (let ((start (point))
            (statement (crochet-keywords--statement (point))))
        (when (memq (caar statement) (car rule))
          (goto-char (nth 1 statement))
          (skip-chars-forward " \t\u00a0")
          (setq found (and (<= start (point))
                           (looking-at (nth 3 rule)))))
        (if found
            (goto-char (match-end (- (length rule) 4)))
          (goto-char start)
          (forward-line 1))))
    found))

(defun crochet-keywords--find-head (entry limit)
  "Find the next head of ENTRY up to LIMIT."
  (let ((case-fold-search t) found)
    (while (and (not found) (re-search-forward (nth 1 entry) limit t))
      (setq found (eq entry (car (crochet-keywords--statement (match-beginning 0))))))
    found))

(defun crochet-keywords--find-rest (entry limit)
  "Find the next line of what no rule colors in statements of ENTRY up to LIMIT."
  (let (found)
    (while (and (not found) (< (point) limit))
      (let* ((statement (crochet-keywords--statement (point)))
             (end (and (eq entry (car statement)) (nth 1 statement))))
        (when (and end (< (point) end))
          (goto-char end))
        (setq found (and end (<= (point) limit) (looking-at "[ \t]*\\([^ \t\n].*\\)")))
        (if found
            (goto-char (match-end 0))
          (forward-line 1))))
    found))

(defun crochet-keywords--highlights (groups)
  "The highlights of font-lock for GROUPS, an alist of groups and faces."
  (mapcar (lambda (g) (list (car g) (list 'quote (cdr g)) nil t)) groups))

(defconst crochet-keywords
  (append
   '(("\\(?:^\\|[ \t]\\)\\(//.*\\)$" (1 'font-lock-comment-face))
     ("\\(?:^\\|[ \t]\\)//+[ \t]*\\(allow\\(?:[ \t]+file\\)?\\)[ \t]*:[ \t]*\\([a-z0-9-]+\\(?:[ \t]*,[ \t]*[a-z0-9-]+\\)*\\)?"
      (1 'font-lock-preprocessor-face t) (2 'font-lock-preprocessor-face t t)))
   (mapcar (lambda (h) (cons (lambda (limit) (crochet-keywords--find-head h limit))
                             (crochet-keywords--highlights (nthcdr 3 h))))
           crochet-keywords-heads)
   (mapcar (lambda (r) (cons (if (nth 1 r)
                                 (lambda (limit) (crochet-keywords--find-lead r limit))
                               (lambda (limit) (crochet-keywords--find r limit)))
                             (crochet-keywords--highlights (nthcdr 4 r))))
           crochet-keywords-rules)
   (delq nil
         (mapcar (lambda (h) (and (nth 2 h)
                                  (list (lambda (limit) (crochet-keywords--find-rest h limit))
                                        (list 1 (list 'quote (nth 2 h)) 'keep))))
                 crochet-keywords-heads)))
  "Keywords for font-lock.")

(defvar font-lock-beg)
(defvar font-lock-end)

(defun crochet-keywords--extend ()
  "Make font-lock color whole statements."
  (save-excursion
    (goto-char font-lock-beg)
    (crochet-keywords--beginning)
    (let ((beg (point)))
      (goto-char font-lock-end)
      (unless (bolp) (forward-line 1))
      (while (and (not (eobp)) (crochet-keywords--continues-p))
        (forward-line 1))
      (let ((changed (or (< beg font-lock-beg) (> (point) font-lock-end))))
        (setq font-lock-beg (min beg font-lock-beg)
              font-lock-end (max (point) font-lock-end))
        changed))))

(defun crochet-keywords-setup ()
  "Let font-lock color the notation in the current buffer."
  (setq-local font-lock-defaults '(crochet-keywords t t))
  (add-hook 'font-lock-extend-region-functions #'crochet-keywords--extend nil t))

(provide 'crochet-keywords)

;;; crochet-keywords.el ends here
