vim.bo.commentstring = '// %s'
vim.bo.comments = '://'
-- An indented line goes on with the statement above it.
vim.bo.shiftwidth = 2
vim.bo.expandtab = true
vim.b.undo_ftplugin = 'setlocal commentstring< comments< shiftwidth< expandtab<'
