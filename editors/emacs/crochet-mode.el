;;; crochet-mode.el --- Crochet patterns, checked while they are written  -*- lexical-binding: t; -*-

;; Version: 0.1.0
;; Package-Requires: ((emacs "28.1") (eglot "1.9"))
;; Keywords: languages

;; SPDX-License-Identifier: MIT

;;; Commentary:

;; A major mode for crochet patterns in plain text (files named *.crochet).  It
;; colors the notation and starts the server of workeven through Eglot, which
;; checks every round: `flymake-show-buffer-diagnostics' lists the slips,
;; `eldoc' explains the word at point, `eglot-code-actions' repairs.
;; From Emacs 29 on, with Eglot 1.13 or later, the totals stand after the rounds.

;;; Code:

(require 'crochet-keywords)
(require 'eglot)

(defgroup crochet nil
  "Crochet patterns in plain text."
  :group 'languages)

(defcustom crochet-server-command '("workeven" "lsp")
  "The command that starts the server, and its arguments."
  :type '(repeat string))

(defcustom crochet-start-server t
  "Whether opening a pattern starts the server.
If nil, start it with \\[eglot]."
  :type 'boolean)

(defcustom crochet-show-hints t
  "Whether the server's hints are shown, where Emacs can show them."
  :type 'boolean)

(defvar crochet-mode-syntax-table
  (let ((table (make-syntax-table)))
    (modify-syntax-entry ?/ ". 12" table)
    (modify-syntax-entry ?\n ">" table)
    (modify-syntax-entry ?\" "." table)
    (modify-syntax-entry ?' "w" table)
    (modify-syntax-entry ?* "." table)
    table)
  "Syntax table of `crochet-mode': // begins a remark, brackets pair.")

(defvar crochet-imenu-expression
  '((nil "^Piece:[ \t]*\\([^(\n]*[^( \t\n]\\)" 1)
    (nil "^\\(Assembly\\):" 1))
  "The places that `imenu' goes to while no server tells them.")

(defun crochet-indent-line ()
  "Indent the line as one that goes on with the statement above it.
A line that is indented is put back to the margin, where a new
statement begins; any other is indented by two columns."
  (interactive)
  (let ((offset (- (point-max) (point))))
    (indent-line-to (if (> (current-indentation) 0) 0 2))
    (when (> (- (point-max) offset) (point))
      (goto-char (- (point-max) offset)))))

;; Of Eglot 1.13 and later.
(declare-function eglot-inlay-hints-mode "eglot" (&optional arg))

(defun crochet--contact (&rest _)
  "Return the command that starts the server, for Eglot.
The user's settings go with it: Eglot also sends them later, but does not
ask again then for the hints that it shows already."
  (let ((settings (and (not (functionp eglot-workspace-configuration))
                       (plist-get eglot-workspace-configuration :workeven))))
    (append crochet-server-command
            (and settings (list :initializationOptions settings)))))

(defun crochet--connect ()
  "Start the server for this buffer, or say why it cannot be started."
  (cond ((not (and crochet-start-server buffer-file-name)))
        ((executable-find (car crochet-server-command)) (eglot-ensure))
        (t (message "There is no command %s; install workeven or set `crochet-server-command'"
                    (car crochet-server-command)))))

(defun crochet--behind-label ()
  "Go behind the label that the server wrote on a new line.
Eglot leaves point before what it inserts."
  (when (and (eq last-command-event ?\n) (bolp) (looking-at "[^:\n]+: $"))
    (end-of-line)))

(defun crochet--managed ()
  "Set up what Eglot shows in a pattern."
  (when (and (derived-mode-p 'crochet-mode) (eglot-managed-p))
    ;; Behind Eglot's own, which asks the server for the label.
    (add-hook 'post-self-insert-hook #'crochet--behind-label 90 t)
    ;; Inside a round both tell something: how far it has come, and what the
    ;; word at point is.
    (setq-local eldoc-documentation-strategy #'eldoc-documentation-compose)
    (unless (or crochet-show-hints (not (fboundp 'eglot-inlay-hints-mode)))
      (eglot-inlay-hints-mode -1))))

;;;###autoload
(define-derived-mode crochet-mode prog-mode "Crochet"
  "Major mode for crochet patterns in plain text.

The server of workeven is started for the file: see
`crochet-start-server' and `crochet-server-command'.

\\{crochet-mode-map}"
  (setq-local comment-start "// "
              comment-start-skip "//+[ \t]*"
              comment-end ""
              imenu-generic-expression crochet-imenu-expression
              indent-line-function #'crochet-indent-line
              indent-tabs-mode nil)
  ;; RET begins a new statement, at the margin; C-j goes on with the one above.
  (electric-indent-local-mode -1)
  (crochet-keywords-setup)
  (crochet--connect))

;;;###autoload
(add-to-list 'auto-mode-alist '("\\.crochet\\'" . crochet-mode))

(add-to-list 'eglot-server-programs '(crochet-mode . crochet--contact))
(add-hook 'eglot-managed-mode-hook #'crochet--managed)

(provide 'crochet-mode)

;;; crochet-mode.el ends here
