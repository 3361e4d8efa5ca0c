vim.filetype.add({ extension = { crochet = 'crochet' } })
