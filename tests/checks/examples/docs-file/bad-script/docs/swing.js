send()
